//! Runs the program in this process, in a folder of its own, and shows what came of it.

use parge_cli::{Exit, World};
use std::ffi::OsString;
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The top folder of the repository.
pub fn repository() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// What a run said, and how it ended.
#[derive(Debug)]
#[must_use = "look at what the program said"]
pub struct Said {
    /// The exit code.
    pub exit: Exit,
    /// Results.
    pub out: String,
    /// Diagnostics.
    pub err: String,
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}{}exit: {:?} ({})",
            self.out, self.err, self.exit, self.exit as u8
        )
    }
}

/// A folder that is gone when the test is.
#[derive(Debug)]
pub struct Folder(tempfile::TempDir);

impl Folder {
    /// An empty folder.
    pub fn new() -> io::Result<Self> {
        tempfile::tempdir().map(Self)
    }

    /// A folder with the demo job in it.
    pub fn with_demo() -> io::Result<Self> {
        let folder = Self::new()?;
        for name in ["job.parge", "prices.csv"] {
            let demo = repository().join("examples/alder-marsh").join(name);
            fs::copy(demo, folder.path(name))?;
        }
        Ok(folder)
    }

    /// A folder with an example in it, its folders as well.
    pub fn with_example(name: &str) -> io::Result<Self> {
        let folder = Self::new()?;
        folder.take(&repository().join("examples").join(name), "")?;
        Ok(folder)
    }

    /// Copies what a folder of the disk holds into a folder of this one.
    pub fn take(&self, from: &Path, to: &str) -> io::Result<()> {
        for entry in fs::read_dir(from)? {
            let entry = entry?;
            let name = format!("{to}{}", entry.file_name().to_string_lossy());
            if entry.file_type()?.is_dir() {
                self.take(&entry.path(), &format!("{name}/"))?;
            } else {
                self.write(&name, fs::read(entry.path())?)?;
            }
        }
        Ok(())
    }

    /// The path of a file in it.
    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// Writes a file, with the folders above it.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) -> io::Result<()> {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap_or(self.0.path()))?;
        fs::write(path, text)
    }

    /// Reads a text file.
    pub fn read(&self, name: &str) -> io::Result<String> {
        fs::read_to_string(self.path(name))
    }

    /// Replaces a text that must stand in a file.
    pub fn edit(&self, name: &str, from: &str, to: &str) -> io::Result<()> {
        let text = self.read(name)?;
        if !text.contains(from) {
            return Err(io::Error::other(format!(
                "`{from}` does not stand in {name}"
            )));
        }
        self.write(name, text.replacen(from, to, 1))
    }

    /// The names of the files and folders in it.
    pub fn names(&self) -> io::Result<Vec<String>> {
        let entries = fs::read_dir(self.0.path())?;
        let names = entries.map(|entry| Ok(entry?.file_name().to_string_lossy().into_owned()));
        let mut names: Vec<String> = names.collect::<io::Result<_>>()?;
        names.sort();
        Ok(names)
    }

    /// Runs `parge` with arguments that are separated by blanks.
    pub fn parge(&self, arguments: &str) -> Said {
        let arguments: Vec<&str> = arguments.split_whitespace().collect();
        self.parge_with(&arguments)
    }

    /// Runs `parge` with arguments that may have blanks in them.
    pub fn parge_with(&self, arguments: &[&str]) -> Said {
        self.run(arguments, None, false)
    }

    /// Runs `parge` where somebody watches how far it is.
    pub fn parge_watched(&self, arguments: &[&str]) -> Said {
        self.run(arguments, None, true)
    }

    /// Runs `parge` at a terminal where these lines are typed.
    pub fn parge_typing(&self, arguments: &[&str], typed: &str) -> Said {
        self.run(arguments, Some(typed), true)
    }

    fn run(&self, arguments: &[&str], typed: Option<&str>, watched: bool) -> Said {
        let mut lines = typed.unwrap_or_default().as_bytes();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let mut world = World {
            out: &mut out,
            err: &mut err,
            input: typed
                .is_some()
                .then_some(&mut lines as &mut dyn io::BufRead),
            folder: self.0.path().to_owned(),
            width: 100,
            colour: false,
            watched,
        };
        let arguments = ["parge"].into_iter().chain(arguments.iter().copied());
        let exit = parge_cli::run(arguments.map(OsString::from), &mut world);
        let here = self.0.path().to_string_lossy().into_owned();
        let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).replace(&here, "HERE");
        Said {
            exit,
            out: text(out),
            err: text(err),
        }
    }
}
