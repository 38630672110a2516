//! What no sheet says and a plan needs: told, and left open, so that nothing of it is invented.

use super::names::word;
use crate::faces::{FaceRead, Import};
use crate::profile::Profile;
use std::collections::BTreeSet;

/// The lines that the estimator has to fill in before the plan can be estimated, in words.
pub fn to_fill_in(import: &Import, profile: &Profile) -> Vec<String> {
    let mut lines = Vec::new();
    let without = |has: &dyn Fn(&FaceRead) -> bool| {
        let faces = import.faces.iter().filter(|face| !has(face));
        faces.count()
    };
    if profile.job.finish.is_none() {
        let bare = without(&|face| face.finish.is_some());
        if bare > 0 {
            lines.push(format!(
                "the finish of {}: `finish NAME` in the block of the structure, or at the end of the line; \
                 `--finish NAME` says it for all",
                faces(bare)
            ));
        }
    }
    if profile.job.on.is_none() {
        let bare = without(&|face| face.substrate.is_some());
        if bare > 0 {
            lines.push(format!(
                "what {} {} built of: `on SUBSTRATE` behind the name of the structure, or in the line; \
                 `--on SUBSTRATE` says it for all",
                faces(bare),
                if bare == 1 { "is" } else { "are" }
            ));
        }
    }
    for name in undefined(import, profile) {
        lines.push(format!(
            "what finish `{name}` is: `finish {} {{ technique NAME  thickness LENGTH }}`",
            word(&name)
        ));
    }
    lines
}

fn faces(count: usize) -> String {
    match count {
        1 => "1 face".to_owned(),
        count => format!("{count} faces"),
    }
}

/// The finishes that faces name and the plan does not define, in the order of the faces.
fn undefined(import: &Import, profile: &Profile) -> Vec<String> {
    let named = import.faces.iter().filter_map(|face| face.finish.as_ref());
    let mut seen = BTreeSet::new();
    let names = named.chain(&profile.job.finish);
    let names = names.filter(|name| !profile.finishes.contains_key(*name) && seen.insert(*name));
    names.cloned().collect()
}
