//! An edit of one line in the middle of a plan.

use crate::stages::Fault;
use parge_calc::draft::Draft;

/// Makes a face in the middle of the plan wider, or as wide as it was, and looks at what all faces
/// take then.
pub fn edit_a_line(draft: &mut Draft<'_>) -> Result<usize, Fault> {
    const FACE: &str = "face f0 rect 1";
    let text = draft.text();
    let middle = text.len() / 2;
    let behind = text.get(middle..).and_then(|text| text.find(FACE));
    let face = behind.map(|behind| middle + behind);
    let face = face.or_else(|| text.find(FACE)).ok_or("no such face")?;
    let feet = face + FACE.len();
    let digit = text.get(feet..feet + 1).ok_or("no size")?;
    let other = if digit == "2" { "3" } else { "2" };
    draft
        .edit(feet..feet + 1, other)
        .map_err(|fault| fault.to_string())?;
    let sums = draft.sums().ok_or("a mistake")?;
    Ok(sums.items().count())
}
