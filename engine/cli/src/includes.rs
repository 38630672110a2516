//! Brings in the files that a plan includes: their statements stand in place of the `include`.
//!
//! A plan comes from anywhere, so what it includes must lie in its own folder or below: a path
//! has no `..`, does not start at the root, and leads through no link out of the folder.

use crate::origin::Origin;
use parge_base::{Code, Diagnostic, Sources};
use parge_grammar::ast::{Damaged, Name, Plan, Statement};
use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};

/// How deep files may include each other.
const MAX_DEPTH: usize = 32;

/// Joins a plan with the files that it includes.
pub(crate) struct Includes<'s> {
    pub(crate) origin: &'s Origin,
    pub(crate) sources: &'s mut Sources,
    pub(crate) diagnostics: &'s mut Vec<Diagnostic>,
    /// The included files on the disk.
    pub(crate) files: Vec<PathBuf>,
    /// The files being joined, from the plan inwards, as paths from its folder.
    open: Vec<PathBuf>,
    /// Those that are joined already: a file included twice counts once.
    taken: BTreeSet<PathBuf>,
}

impl<'s> Includes<'s> {
    /// For a plan of that name.
    pub(crate) fn new(
        origin: &'s Origin,
        name: &Path,
        sources: &'s mut Sources,
        diagnostics: &'s mut Vec<Diagnostic>,
    ) -> Self {
        Self {
            origin,
            sources,
            diagnostics,
            files: Vec::new(),
            open: vec![name.to_owned()],
            taken: BTreeSet::new(),
        }
    }

    /// The plan with the statements of the files that it includes.
    pub(crate) fn join(&mut self, plan: Plan) -> Plan {
        let mut joined = Plan {
            version: plan.version,
            statements: Vec::with_capacity(plan.statements.len()),
            damaged: plan.damaged,
        };
        for statement in plan.statements {
            match statement {
                Statement::Include(path) => self.include(&path, &mut joined),
                Statement::Job(job) if self.open.len() > 1 => {
                    let message = "an included file has no job block";
                    let help =
                        "move the job block into the plan, and keep finishes and templates here";
                    let diagnostic = Diagnostic::new(Code::NotInIncluded, message, help);
                    self.diagnostics.push(diagnostic.at(job.name.span, ""));
                }
                other => joined.statements.push(other),
            }
        }
        joined
    }

    fn include(&mut self, path: &Name, joined: &mut Plan) {
        let included = match self.included(path) {
            Ok(included) => included,
            Err(diagnostic) => {
                self.diagnostics.push(diagnostic);
                joined.damaged.push(Damaged {
                    word: "include".to_owned(),
                    name: path.node.clone(),
                });
                return;
            }
        };
        if let Some(mut included) = included {
            joined.statements.append(&mut included.statements);
            joined.damaged.append(&mut included.damaged);
        }
    }

    /// The plan of an included file; none where it is joined already.
    fn included(&mut self, path: &Name) -> Result<Option<Plan>, Diagnostic> {
        let around = self.open.last().and_then(|file| file.parent());
        let place = inside(around.unwrap_or(Path::new("")), path)?;
        if let Some(first) = self.open.iter().position(|open| *open == place) {
            return Err(self.circle(first, path));
        }
        if self.open.len() > MAX_DEPTH {
            let message = format!("files include each other more than {MAX_DEPTH} deep");
            let help = "include the files that are needed from the plan itself";
            return Err(Diagnostic::new(Code::TooDeep, message, help).at(path.span, ""));
        }
        if !self.taken.insert(place.clone()) {
            return Ok(None);
        }
        self.check_links(&place, path)?;
        let word = place.display().to_string();
        let shown = self.origin.shown(&word);
        let read = self.origin.read_text(&place, &shown, self.sources);
        let file = read.map_err(|error| match error.labels.is_empty() {
            true => error.at(path.span, "included here"),
            false => error,
        })?;
        self.files.extend(self.origin.on_disk(&place));
        let parsed = parge_grammar::parse(file, self.sources.text(file));
        self.diagnostics.extend(parsed.diagnostics);
        self.open.push(place);
        let plan = self.join(parsed.plan);
        self.open.pop();
        Ok(Some(plan))
    }

    /// A link may lead anywhere, whatever the path looks like.
    fn check_links(&self, place: &Path, path: &Name) -> Result<(), Diagnostic> {
        let (Origin::Disk(folder), Some(file)) = (self.origin, self.origin.on_disk(place)) else {
            return Ok(());
        };
        let folder = if folder.as_os_str().is_empty() {
            Path::new(".")
        } else {
            folder
        };
        // What is not there is told when it is read.
        let (Ok(folder), Ok(file)) = (folder.canonicalize(), file.canonicalize()) else {
            return Ok(());
        };
        match file.starts_with(&folder) {
            true => Ok(()),
            false => Err(outside(
                path,
                "leads through a link out of the plan's folder",
            )),
        }
    }

    fn circle(&self, first: usize, path: &Name) -> Diagnostic {
        let files = self.open.iter().skip(first).chain(self.open.get(first));
        let files: Vec<String> = files.map(|file| format!("`{}`", file.display())).collect();
        let message = format!(
            "files include each other in a circle: {}",
            files.join(" includes ")
        );
        let help = "take this line out: a file that is included once is there for all of the plan";
        Diagnostic::new(Code::IncludeCircle, message, help).at(path.span, "")
    }
}

/// The place of an included file from the plan's folder.
fn inside(folder: &Path, path: &Name) -> Result<PathBuf, Diagnostic> {
    if path.node.contains('\\') {
        return Err(outside(
            path,
            "is written with `\\`, which not every machine knows",
        ));
    }
    let mut place = folder.to_owned();
    for part in Path::new(&path.node).components() {
        match part {
            Component::Normal(name) => place.push(name),
            Component::CurDir => {}
            Component::ParentDir => return Err(outside(path, "goes up with `..`")),
            Component::RootDir | Component::Prefix(_) => {
                return Err(outside(path, "does not start from the file's folder"));
            }
        }
    }
    if place.file_name().is_none() || path.node.trim().is_empty() {
        return Err(outside(path, "names no file"));
    }
    Ok(place)
}

fn outside(path: &Name, why: &str) -> Diagnostic {
    let message = format!("the included path `{}` {why}", path.node);
    let help = "keep the file in the plan's folder or below, and write the path with `/`: `include \"company/finishes.parge\"`";
    Diagnostic::new(Code::IncludeOutside, message, help).at(path.span, "")
}
