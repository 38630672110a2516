//! The rule packs that the program carries with it, so that one binary works anywhere.

use include_dir::{Dir, include_dir};
use parge_rules::PackFiles;

static PACKS: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/../packs");

/// The names of the standard packs.
pub fn names() -> Vec<&'static str> {
    PACKS
        .dirs()
        .filter_map(|pack| pack.path().to_str())
        .collect()
}

/// A standard pack's files by the pack's name.
pub fn find(name: &str) -> Option<PackFiles> {
    let pack = PACKS
        .dirs()
        .find(|pack| pack.path().to_str() == Some(name))?;
    let mut files = PackFiles {
        folder: name.to_owned(),
        ..PackFiles::default()
    };
    collect(pack, pack.path(), &mut files);
    Some(files)
}

fn collect(folder: &Dir<'_>, root: &std::path::Path, files: &mut PackFiles) {
    for file in folder.files() {
        let path = file.path().strip_prefix(root).unwrap_or(file.path());
        if let (Some(path), Some(text)) = (path.to_str(), file.contents_utf8()) {
            files.texts.insert(path.replace('\\', "/"), text.to_owned());
        }
    }
    folder.dirs().for_each(|inner| collect(inner, root, files));
}
