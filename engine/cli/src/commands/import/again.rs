//! The plan that was written, read again: what it adds up to, and what the program measures of it.

use crate::origin::Origin;
use crate::session::Session;
use parge_base::{Sources, Span, diagnostic};
use parge_calc::contract::Packs;
use parge_calc::measure::{AreasOfAll, areas_of_parts, measure_alone, plain_areas};
use parge_importers::write::{
    Addends, MeasuredPlan, PlanText, Sums, addends_of_plan, read_again, read_in_parts,
};
use parge_rules::Pack;
use std::path::PathBuf;

/// What a plan says of itself.
pub(super) struct Again {
    pub(super) sums: Sums,
    pub(super) measured: MeasuredPlan,
}

/// Why there is nothing to hold against the sheet.
pub(super) enum Fault {
    /// What cannot be read or summed, in words.
    Unreadable(String),
    /// What is wrong was told.
    Told,
}

/// Reads the plan in parts, of which all faces are plain. `None` where they are not, or anything is
/// wrong: then [`whole`] says what.
pub(super) fn in_parts(plan: &PlanText) -> Option<Again> {
    // No place in the text is told of.
    let file = Sources::new().add("the imported plan", "");
    let parts = read_in_parts(file, plan, |part| {
        Some((addends_of_plan(part).ok()?, plain_areas(part)?))
    });
    let (addends, areas): (Vec<Addends>, Vec<_>) = parts?.into_iter().unzip();
    Some(Again {
        sums: Sums::of_parts(&addends),
        measured: measured(areas_of_parts(areas)?),
    })
}

/// Reads the plan as a whole, resolves it and measures it.
pub(super) fn whole(plan: &PlanText, session: &mut Session) -> Result<Again, Fault> {
    let text = &plan.text;
    let file = session.sources.add("the imported plan", text.as_str());
    let plan = read_again(file, text).map_err(Fault::Unreadable)?;
    let addends = addends_of_plan(&plan).map_err(Fault::Unreadable)?;
    let pack = pack(session).ok_or(Fault::Told)?;
    let end = Span::new(file, text.len(), text.len());
    let (areas, said) = measure_alone(plan, Packs::of(&pack), end);
    match areas.filter(|_| !diagnostic::any_error(&said)) {
        Some(areas) => Ok(Again {
            sums: Sums::of_parts([&addends]),
            measured: measured(areas),
        }),
        None => {
            session.diagnostics.extend(said);
            Err(Fault::Told)
        }
    }
}

/// The pack that the sizes of every plan are measured under.
fn pack(session: &mut Session) -> Option<Pack> {
    session.pack_of(super::RULES, &Origin::Disk(PathBuf::new()), None)
}

fn measured(areas: AreasOfAll) -> MeasuredPlan {
    MeasuredPlan {
        faces: areas.faces,
        equal: areas.equal,
        gross: areas.gross,
        deducted: areas.deducted,
    }
}
