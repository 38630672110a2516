//! A revised sheet over a plan that was edited since: what changed between the two imports is
//! applied to the plan, at the places where the plan still says what the first import wrote.
//! Everything else of the plan stays as it is, comments as well.

mod edits;
mod parts;

use edits::Edits;
use parge_base::{FileId, Sources, Span};
use parge_grammar::ast::Plan;
use parts::{FaceParts, Faces, OpeningParts, faces};

/// The three texts of a merge.
#[derive(Debug, Clone, Copy)]
pub struct Texts<'a> {
    /// What the last import wrote.
    pub base: &'a str,
    /// The plan as it is.
    pub plan: &'a str,
    /// What the revised sheet gives.
    pub revised: &'a str,
}

/// What came of a merge.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Merge {
    /// The plan with what changed, laid out.
    pub text: String,
    /// What changed in the sheet and was taken over, a line each.
    pub changes: Vec<String>,
    /// What was deleted in the plan and stands in the sheet as before, a line each.
    pub deleted: Vec<String>,
    /// What was changed or added in the plan and stays so, beside what the sheet says, a line each.
    pub kept: Vec<String>,
    /// What both changed, so that somebody has to choose.
    pub conflicts: Vec<Conflict>,
}

/// Something that the sheet and the plan changed, each in its way.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// What.
    pub what: String,
    /// Where it stands in the plan, in bytes; nowhere where the plan has it no more.
    pub place: Option<(usize, usize)>,
    /// What the last import wrote; nothing where it was not there.
    pub base: Option<String>,
    /// What the plan says.
    pub plan: Option<String>,
    /// What the sheet says now.
    pub revised: Option<String>,
}

/// Merges. An error is words for a text that cannot be read.
pub fn merge(texts: Texts<'_>) -> Result<Merge, String> {
    let mut sources = Sources::new();
    let base = read(&mut sources, "the last import", texts.base)?;
    let plan = read(&mut sources, "the plan", texts.plan)?;
    let revised = read(&mut sources, "the revised sheet", texts.revised)?;
    let (base, revised) = (faces(&base, texts.base), faces(&revised, texts.revised));
    let own = faces(&plan, texts.plan);
    let mut merging = Merging {
        own: &own,
        edits: Edits::new(texts.plan),
        merge: Merge::default(),
    };
    for (key, new) in &revised {
        match base.get(key) {
            Some(old) => merging.face(key, old, new),
            None => merging.added(key, new),
        }
    }
    for (key, old) in base.iter().filter(|(key, _)| !revised.contains_key(*key)) {
        merging.removed(key, old);
    }
    let is_own = |key: &Key| !revised.contains_key(key) && !base.contains_key(key);
    for (key, face) in own.iter().filter(|(key, _)| is_own(key)) {
        let line = format!("{}: {} in the plan alone", named(key), face.whole());
        merging.merge.kept.push(line);
    }
    let Merging {
        edits, mut merge, ..
    } = merging;
    let text = edits.applied();
    let file = Sources::new().add("plan", "");
    merge.text = parge_grammar::fmt::format(file, &text).map_err(|wrong| {
        let why = wrong.first().map_or("", |first| &first.message);
        format!("the merged plan cannot be read: {why}")
    })?;
    Ok(merge)
}

fn read(sources: &mut Sources, name: &str, text: &str) -> Result<Plan, String> {
    let file: FileId = sources.add(name, "");
    let parsed = parge_grammar::parse(file, text);
    match parsed.diagnostics.first() {
        None => Ok(parsed.plan),
        Some(first) => Err(format!("{name} cannot be read: {}", first.message)),
    }
}

/// A face by its structure and its name.
type Key = (String, String);

struct Merging<'a> {
    own: &'a Faces,
    edits: Edits<'a>,
    merge: Merge,
}

impl Merging<'_> {
    /// A face that both imports have.
    fn face(&mut self, key: &Key, old: &FaceParts, new: &FaceParts) {
        let name = named(key);
        let Some(own) = self.own.get(key).cloned() else {
            match old.same(new) {
                true => self.merge.deleted.push(format!("{name}, {}", old.whole())),
                false => self.conflict(&name, None, (Some(old.whole()), None, Some(new.whole()))),
            }
            return;
        };
        for (part, was) in &old.details {
            self.part(
                &name,
                part,
                (Some(was), new.details.get(part)),
                &own,
                own.end,
            );
        }
        for (part, is) in new
            .details
            .iter()
            .filter(|(part, _)| !old.details.contains_key(*part))
        {
            self.part(&name, part, (None, Some(is)), &own, own.end);
        }
        self.kept(&name, (old, new), &own);
        self.openings(&name, (old, new), &own);
    }

    /// The sizes that the plan has otherwise than the sheet, which has them as before.
    fn kept(&mut self, name: &str, (old, new): (&FaceParts, &FaceParts), own: &FaceParts) {
        for part in parts::SIZES {
            let text = |face: &FaceParts| face.details.get(part).map(|part| part.text.clone());
            let (was, mine, is) = (text(old), text(own), text(new));
            if was == is && mine != is {
                let words = |text: Option<String>| text.unwrap_or_else(|| format!("no {part}"));
                self.merge.kept.push(format!(
                    "{name}: {} in the plan, {} in the sheet",
                    words(mine),
                    words(is)
                ));
            }
        }
        for (opening, mine) in &own.openings {
            if !new.openings.contains_key(opening) && !old.openings.contains_key(opening) {
                let line = format!("{name}, opening {opening}: {} in the plan alone", mine.bare);
                self.merge.kept.push(line);
            }
        }
    }

    /// One part of a statement: its shape, its count.
    fn part(
        &mut self,
        name: &str,
        part: &'static str,
        (was, is): (Option<&parts::Text>, Option<&parts::Text>),
        own: &FaceParts,
        end: usize,
    ) {
        let text = |part: Option<&parts::Text>| part.map(|part| part.text.clone());
        let mine = own.details.get(part);
        if text(was) == text(is) || text(mine) == text(is) {
            return;
        }
        if text(mine) != text(was) {
            let place = mine.map(|mine| mine.place).or(Some(own.place));
            self.conflict(
                &format!("{name}, {part}"),
                place,
                (text(was), text(mine), text(is)),
            );
            return;
        }
        match (mine, is) {
            (Some(mine), Some(is)) => self.edits.replace(mine.place, &is.text),
            (Some(mine), None) => self.edits.replace(mine.place, ""),
            (None, Some(is)) => self.edits.insert(end, &format!(" {}", is.text)),
            (None, None) => {}
        }
        // Where a figure stands in the sheet is no change that anybody has to look at.
        if part != "from" {
            let word =
                |part: Option<&parts::Text>| text(part).unwrap_or_else(|| "nothing".to_owned());
            self.merge
                .changes
                .push(format!("{name}: {} is now {}", word(was), word(is)));
        }
    }

    fn openings(&mut self, face: &str, (old, new): (&FaceParts, &FaceParts), own: &FaceParts) {
        for (name, is) in &new.openings {
            let what = format!("{face}, opening {name}");
            match (old.openings.get(name), own.openings.get(name)) {
                (Some(was), None) if was.bare == is.bare => {
                    self.merge.deleted.push(format!("{face}, {}", was.bare));
                }
                (Some(was), mine) if was.text == is.text => {
                    if let Some(mine) = mine.filter(|mine| mine.bare != is.bare) {
                        self.merge.kept.push(format!(
                            "{what}: {} in the plan, {} in the sheet",
                            mine.bare, is.bare
                        ));
                    }
                }
                (Some(was), Some(mine)) if mine.text == was.text => {
                    self.edits.replace(mine.place, &is.text);
                    self.merge
                        .changes
                        .push(format!("{what}: {} is now {}", was.bare, is.bare));
                }
                (None, None) => {
                    self.edits.insert_into(own, &is.text);
                    self.merge.changes.push(format!("{what}: new, {}", is.bare));
                }
                (_, Some(mine)) if mine.bare == is.bare => {}
                (was, mine) if was.is_none_or(|was| was.bare != is.bare) => {
                    self.opening_conflict(&what, (was, mine, Some(is)), own);
                }
                _ => {}
            }
        }
        for (name, was) in old
            .openings
            .iter()
            .filter(|(name, _)| !new.openings.contains_key(*name))
        {
            let what = format!("{face}, opening {name}");
            match own.openings.get(name) {
                Some(mine) if mine.text == was.text => {
                    self.edits.replace(mine.place, "");
                    self.merge.changes.push(format!("{what}: taken out"));
                }
                Some(mine) => self.opening_conflict(&what, (Some(was), Some(mine), None), own),
                None => {}
            }
        }
    }

    fn opening_conflict(
        &mut self,
        what: &str,
        (was, mine, is): (
            Option<&OpeningParts>,
            Option<&OpeningParts>,
            Option<&OpeningParts>,
        ),
        own: &FaceParts,
    ) {
        let text = |opening: Option<&OpeningParts>| opening.map(|opening| opening.bare.clone());
        let place = mine.map_or(own.place, |mine| mine.place);
        self.conflict(what, Some(place), (text(was), text(mine), text(is)));
    }

    fn added(&mut self, key: &Key, new: &FaceParts) {
        let name = named(key);
        if let Some(own) = self.own.get(key) {
            if !own.same(new) {
                self.conflict(
                    &name,
                    Some(own.place),
                    (None, Some(own.whole()), Some(new.whole())),
                );
            }
            return;
        }
        self.edits.add_face(self.own, key, new);
        self.merge
            .changes
            .push(format!("{name}: new, {}", new.whole()));
    }

    fn removed(&mut self, key: &Key, old: &FaceParts) {
        let Some(own) = self.own.get(key) else {
            return;
        };
        let name = named(key);
        if own.text != old.text {
            self.conflict(
                &name,
                Some(own.place),
                (Some(old.whole()), Some(own.whole()), None),
            );
            return;
        }
        self.edits.replace((own.place.0, own.block_end), "");
        self.merge.changes.push(format!("{name}: taken out"));
    }

    fn conflict(
        &mut self,
        what: &str,
        place: Option<(usize, usize)>,
        (base, plan, revised): (Option<String>, Option<String>, Option<String>),
    ) {
        self.merge.conflicts.push(Conflict {
            what: what.to_owned(),
            place,
            base,
            plan,
            revised,
        });
    }
}

fn named((structure, face): &Key) -> String {
    format!("{structure}, {face}")
}

fn range(span: Span) -> (usize, usize) {
    (span.range().start, span.range().end)
}

#[cfg(test)]
mod tests;
