//! The way through the outline.

use super::line::{Last, Line};
use super::{Block, Sketch, Slot};
use crate::outline::{Item, outline};
use parge_base::Sources;
use std::ops::Range;

/// Signs at the end of a line behind which a statement goes on.
const GOES_ON: [char; 8] = [',', '+', '-', '*', '/', '^', '=', '('];

/// Where items stand.
#[derive(Clone, Copy)]
struct Place {
    /// None at the top.
    block: Option<Block>,
    /// What the block belongs to.
    owner: Option<usize>,
    /// The structure or template around.
    body: Option<usize>,
    /// Where the block ends.
    end: usize,
    /// Whether a cut text ends in here.
    live: bool,
}

pub(super) fn walk(text: &str, cut: bool) -> Sketch {
    let mut sketch = Sketch::default();
    // Mistakes are the parser's to tell, so neither they nor their file matter here.
    let file = Sources::new().add("", "");
    let items = outline(file, text, &mut Vec::new());
    let top = Place {
        block: None,
        owner: None,
        body: None,
        end: text.len(),
        live: cut,
    };
    Walk {
        text,
        sketch: &mut sketch,
    }
    .items(&items, top);
    sketch
}

struct Walk<'t, 's> {
    text: &'t str,
    sketch: &'s mut Sketch,
}

impl Walk<'_, '_> {
    fn items(&mut self, items: &[Item], place: Place) {
        let mut open = false;
        for (index, item) in items.iter().enumerate() {
            let next = items.get(index + 1);
            let live = place.live && next.is_none();
            let end = next.map_or(place.end, |next| next.head.start);
            open |= self.item(item, Place { end, live, ..place });
        }
        if place.live && !open {
            self.sketch.last_body = place.body;
            self.sketch.slots.push(match place.block {
                None => Slot::Statement,
                Some(block) => Slot::Member(block),
            });
        }
    }

    /// Reads one item, and says whether a cut text ends inside of it.
    fn item(&mut self, item: &Item, place: Place) -> bool {
        let live = place.live && item.block.is_none() && !self.is_over(&item.head);
        if live {
            self.sketch.last_body = place.body;
        }
        let mut line = Line::new(self.text, item.head.clone(), self.sketch);
        (line.live, line.body, line.owner) = (live, place.body, place.owner);
        let last = match place.block {
            None => line.statement(),
            Some(block) => line.members(block),
        };
        match &item.block {
            None => live,
            Some(block) => {
                let open = place.live && block.close.is_none();
                let end = block.close.map_or(place.end, |close| close + 1);
                let shown = self.text.get(..end).unwrap_or("").trim_end().len();
                self.stretch(&last, shown);
                let inside = inside(
                    &last,
                    Place {
                        end,
                        live: open,
                        ..place
                    },
                );
                self.items(&block.items, inside);
                open
            }
        }
    }

    /// Takes the block into the span of what it belongs to.
    fn stretch(&mut self, last: &Last, end: usize) {
        if let Some(thing) = last
            .thing
            .and_then(|thing| self.sketch.things.get_mut(thing))
        {
            thing.span.end = end.max(thing.span.end);
        }
    }

    /// Whether a line has come to its end where a text was cut off.
    fn is_over(&self, head: &Range<usize>) -> bool {
        let behind = self.text.get(head.end..).unwrap_or("");
        let goes_on = self.text.get(head.clone()).unwrap_or("").ends_with(GOES_ON);
        behind.contains(['\n', '\r']) && !goes_on
    }
}

fn inside(last: &Last, place: Place) -> Place {
    let block = last.block.unwrap_or(Block::Unknown);
    Place {
        block: Some(block),
        owner: last.thing,
        body: if block == Block::Body {
            last.thing
        } else {
            place.body
        },
        ..place
    }
}
