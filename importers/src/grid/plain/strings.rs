//! The texts that cells share.

use super::cut::{Cut, Tag, words};
use compact_str::CompactString;
use std::borrow::Cow;

/// The texts of a part, in their order and without blanks around them; `None` where they are not
/// written plainly.
pub(super) fn read(part: &str) -> Option<Vec<CompactString>> {
    let mut cut = Cut::new(part);
    if cut.eat("<?xml") {
        let declared = cut.skip_past("?>")?;
        if declared.contains('<') {
            return None;
        }
    }
    while cut.eat("\n") || cut.eat("\r\n") {}
    if !cut.eat("<sst") || cut.attributes(|_, _| ())? != Tag::Open {
        return None;
    }
    let mut strings = Vec::new();
    while !cut.eat("</sst>") {
        strings.push(one(&mut cut)?.trim().into());
    }
    Some(strings)
}

fn one<'a>(cut: &mut Cut<'a>) -> Option<Cow<'a, str>> {
    if cut.eat("<si/>") {
        return Some(Cow::Borrowed(""));
    }
    if !cut.eat("<si>") {
        return None;
    }
    let mut all: Option<Cow<'_, str>> = None;
    while !cut.eat("</si>") {
        // A text in several hands stands in runs, each with its look.
        let is_run = cut.eat("<r>");
        if is_run && cut.eat("<rPr>") && cut.skip_past("</rPr>")?.contains("<t") {
            return None;
        }
        if !cut.eat("<t") {
            return None;
        }
        let part = words(cut)?;
        if is_run && !cut.eat("</r>") {
            return None;
        }
        all = Some(match all {
            None => part,
            Some(before) => Cow::Owned(before.into_owned() + part.as_ref()),
        });
    }
    Some(all.unwrap_or_default())
}
