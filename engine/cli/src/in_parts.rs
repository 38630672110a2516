//! A long plan estimated part by part: its faces are not held together.

use crate::World;
use crate::includes::Includes;
use crate::origin::Origin;
use crate::session::{Estimated, Loaded, PlanRead, Session};
use parge_base::diagnostic;
use parge_base::forecast::Forecast;
use parge_calc::actuals::fingerprint_with;
use parge_calc::contract::Packs;
use parge_calc::parts::{Faces, Given, Parts, Survey, survey, taken_off};
use parge_calc::stages::priced;
use std::fs;
use std::path::Path;

/// Shorter plans, of some twenty thousand faces, are held as a whole: that is quicker, since nothing is
/// gone through twice.
const FROM_BYTES: u64 = 1 << 20;

/// About so much text is gone through at once, on all cores together: some six hundred faces. A part
/// has no less than a smaller share, however many cores there are.
const AT_ONCE_BYTES: usize = 1 << 15;
const LEAST_BYTES: usize = 1 << 12;

/// An estimate with the way to its faces.
pub(crate) struct InParts {
    pub(crate) estimated: Estimated,
    survey: Survey,
    loaded: Loaded,
    forecast: Option<Forecast>,
    parts: Parts,
}

impl InParts {
    /// Estimates a long plan. `None` where it is short, or there is no way by parts; what was said
    /// until then is said again by whoever takes the plan as a whole.
    pub(crate) fn of(path: &Path, world: &World<'_>) -> Option<(Session, Self)> {
        let size = fs::metadata(world.folder.join(path)).ok()?.len();
        if size < FROM_BYTES {
            return None;
        }
        let mut session = Session::default();
        let part = (AT_ONCE_BYTES / rayon::current_num_threads()).max(LEAST_BYTES);
        let made = session.in_parts(path, world, part)?;
        Some((session, made))
    }

    /// The faces, to be gone through.
    pub(crate) fn faces<'s>(&'s self, session: &'s Session) -> Faces<'s> {
        Faces {
            of: given(session, &self.survey, &self.loaded, self.forecast.as_ref()),
            parts: &self.parts,
            takeoff: &self.estimated.estimate.takeoff,
        }
    }
}

impl Session {
    fn in_parts(&mut self, path: &Path, world: &World<'_>, bytes: usize) -> Option<InParts> {
        let (survey, loaded) = self.surveyed(path, world, bytes)?;
        let forecast = self.forecast(&loaded);
        if diagnostic::any_error(&self.diagnostics) {
            return None;
        }
        let of = given(self, &survey, &loaded, forecast.as_ref());
        let (takeoff, parts, mut said) = taken_off(of)?;
        self.diagnostics.append(&mut said);
        let book = self.prices(&loaded)?;
        let estimate = priced(takeoff, Some(&book), &loaded.pack, &self.diagnostics);
        let estimate = self.keep(estimate)?;
        let packs = (&*loaded.pack, loaded.measuring.as_deref());
        let print = survey.print();
        let fingerprint = fingerprint_with(print, forecast.as_ref(), packs, &book, &self.sources);
        Some(InParts {
            estimated: Estimated {
                estimate,
                book,
                fingerprint,
            },
            survey,
            loaded,
            forecast,
            parts,
        })
    }

    /// What a long plan says but for its faces, with the packs that it asks for.
    fn surveyed(
        &mut self,
        path: &Path,
        world: &World<'_>,
        bytes: usize,
    ) -> Option<(Survey, Loaded)> {
        let (origin, name) = Origin::of_file(&world.folder.join(path));
        let shown = path.display().to_string();
        let file = origin.read_text(&name, &shown, &mut self.sources).ok()?;
        // Included files come into the sources while the text is gone through.
        let text = self.sources.text(file).to_owned();
        let mut includes = Includes::new(&origin, &name, &mut self.sources, &mut self.diagnostics);
        let survey = survey(file, &text, bytes, |plan| includes.join(plan))?;
        let mut included = includes.files;
        self.files.append(&mut included);
        let plan = survey.plan().clone();
        let loaded = self.with_packs(PlanRead { plan, file, origin })?;
        Some((survey, loaded))
    }
}

fn given<'s>(
    session: &'s Session,
    survey: &'s Survey,
    loaded: &'s Loaded,
    forecast: Option<&'s Forecast>,
) -> Given<'s> {
    Given {
        survey,
        sources: &session.sources,
        packs: Packs {
            rules: &loaded.pack,
            measuring: loaded.measuring.as_deref(),
        },
        forecast,
        end: session.end_of(loaded),
    }
}

#[cfg(test)]
mod tests;
