//! The imported plan as the program measures it.

use crate::origin::Origin;
use crate::session::Session;
use parge_base::{FileId, Span, diagnostic};
use parge_calc::contract::Packs;
use parge_calc::measure::measure_alone;
use parge_importers::write::MeasuredPlan;
use std::path::PathBuf;

/// The sums of the plan, resolved and measured; `None` after a fault of its sizes was told.
pub(super) fn sums(file: FileId, text: &str, session: &mut Session) -> Option<MeasuredPlan> {
    let pack = session.pack_of(super::RULES, &Origin::Disk(PathBuf::new()), None)?;
    let parsed = parge_grammar::parse(file, text);
    let end = Span::new(file, text.len(), text.len());
    let (areas, said) = measure_alone(parsed.plan, Packs::of(&pack), end);
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
