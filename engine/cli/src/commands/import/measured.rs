//! The imported plan as the program measures it.

use crate::origin::Origin;
use crate::session::Session;
use parge_base::{Span, diagnostic};
use parge_calc::contract::Packs;
use parge_calc::measure::measure_alone;
use parge_grammar::ast::Plan;
use parge_importers::write::MeasuredPlan;
use parge_rules::Pack;
use std::path::PathBuf;

/// The pack that the sizes of every plan are measured under.
pub(super) fn pack(session: &mut Session) -> Option<Pack> {
    session.pack_of(super::RULES, &Origin::Disk(PathBuf::new()), None)
}

/// The sums of a plan that was read again, resolved and measured; `end` is where its text ends.
/// `None` after a fault of its sizes was told.
pub(super) fn sums(
    plan: Plan,
    end: Span,
    pack: &Pack,
    session: &mut Session,
) -> Option<MeasuredPlan> {
    let (areas, said) = measure_alone(plan, Packs::of(pack), end);
    if diagnostic::any_error(&said) {
        session.diagnostics.extend(said);
        return None;
    }
    areas.map(|areas| MeasuredPlan {
        faces: areas.faces,
        equal: areas.equal,
        gross: areas.gross,
        deducted: areas.deducted,
    })
}
