//! The record of all lines or rows.

use super::amount::{Kind, used};
use super::entry::{Amount, Entry, Piece, Print};
use super::uses::{Uses, twice};
use jiff::civil::Date;
use parge_base::actuals::{Actuals, Fingerprint, Lines, PackStated, Remark, Written};
use parge_base::{Code, Diagnostic, Dim, FileId, Span, diagnostic};

/// A day in hours: how many days are is counted, and not how long they were.
const DAYS: &str = "days 9";

/// Makes the record of what was read. With an error, also one that was `said` before, there is none.
pub(super) fn record(
    file: FileId,
    entries: Vec<Entry>,
    mut said: Vec<Diagnostic>,
    lines: &Lines,
) -> (Option<Actuals>, Vec<Diagnostic>) {
    let mut record = Recording {
        head: Head::default(),
        uses: Uses::new(lines),
    };
    for entry in entries {
        said.extend(record.add(entry).err());
    }
    said.extend(record.head.wrong_days());
    let head = record.head;
    let uses = record.uses;
    let span = Span::new(file, 0, 0);
    let is_empty = uses.materials.is_empty()
        && uses.hours.is_empty()
        && uses.areas.is_empty()
        && head.days.is_none()
        && head.first.is_none();
    if is_empty && said.is_empty() {
        let message = "the record states nothing that was used";
        let help = "write amounts into the form, such as `finish-mix 104 bags`";
        said.push(Diagnostic::new(Code::BadActuals, message, help).at(span, ""));
    }
    diagnostic::tidy(&mut said);
    let actuals = said.is_empty().then(|| Actuals {
        job: head.job,
        priced: head.priced,
        packs: head.packs,
        first_day: head.first.map(|(day, _)| day),
        last_day: head.last.map(|(day, _)| day),
        days: head.days.map(|(days, _)| days),
        materials: uses.materials.into_iter().map(|(used, _)| used).collect(),
        hours: uses.hours.into_iter().map(|(worked, _)| worked).collect(),
        areas: uses.areas,
        weather: head.weather,
        remarks: head.remarks,
        span,
    });
    (actuals, said)
}

struct Recording<'l> {
    head: Head,
    uses: Uses<'l>,
}

/// All but what was used.
#[derive(Default)]
struct Head {
    job: Option<(String, Written)>,
    priced: Fingerprint<Option<(String, Written)>>,
    packs: Vec<PackStated>,
    first: Option<(Date, Written)>,
    last: Option<(Date, Written)>,
    days: Option<(f64, Written)>,
    weather: Vec<Remark>,
    remarks: Vec<Remark>,
}

type Added = Result<(), Diagnostic>;

impl Recording<'_> {
    fn add(&mut self, entry: Entry) -> Added {
        let head = &mut self.head;
        match entry {
            Entry::Job(name) => put(&mut head.job, "the job", &name, name.text.clone()),
            Entry::Priced(print, text) => {
                let (slot, what) = match print {
                    Print::Plan => (&mut head.priced.plan, "the fingerprint of the plan"),
                    Print::Rules => (&mut head.priced.rules, "the fingerprint of the rules"),
                    Print::Prices => (&mut head.priced.prices, "the fingerprint of the prices"),
                };
                put(slot, what, &text, text.text.clone())
            }
            Entry::Rules { name, version } => head.add_pack(&name, version),
            Entry::FirstDay(day) => {
                let date = date(&day)?;
                put(&mut head.first, "the first day", &day, date)
            }
            Entry::LastDay(day) => {
                let date = date(&day)?;
                put(&mut head.last, "the last day", &day, date)
            }
            Entry::Days(piece) => {
                let days = days(&piece, self.uses.lines)?;
                put(&mut head.days, "the number of days", &piece, days)
            }
            Entry::Item { name, amount } => self.uses.item(&name, &amount),
            Entry::Hours { phase, at, amount } => self.uses.hours(&phase, &at, &amount),
            Entry::Area {
                structure,
                face,
                amount,
            } => self.uses.area(&structure, face.as_ref(), &amount),
            Entry::Weather { day, words } => {
                head.weather.push(remark(day, words)?);
                Ok(())
            }
            Entry::Remark { day, words } => {
                head.remarks.push(remark(day, words)?);
                Ok(())
            }
        }
    }
}

impl Head {
    fn add_pack(&mut self, name: &Piece, version: String) -> Added {
        if let Some(first) = self.packs.iter().find(|pack| pack.name == name.text) {
            let help = "keep the version that priced the job".to_owned();
            return Err(twice(
                &format!("pack `{}`", name.text),
                name,
                &first.place,
                help,
            ));
        }
        self.packs.push(PackStated {
            name: name.text.clone(),
            version,
            place: name.place.clone(),
        });
        Ok(())
    }

    /// Days that do not fit between the first and the last.
    fn wrong_days(&self) -> Option<Diagnostic> {
        let ((first, _), (last, place)) = self.first.as_ref().zip(self.last.as_ref())?;
        if last < first {
            let message = format!("the last day, {last}, is before the first, {first}");
            let help = "write the first day and then the last";
            let wrong = Diagnostic::new(Code::OutOfRange, message, help);
            return Some(wrong.at(place.span, place.words.clone()));
        }
        let (days, place) = self.days.as_ref()?;
        let between = i64::from((*last - *first).get_days()) + 1;
        if *days <= between as f64 {
            return None;
        }
        let message = format!("{days} days on site do not fit between {first} and {last}");
        let help = "count the days on which work went on, or correct the first and the last";
        let wrong = Diagnostic::new(Code::OutOfRange, message, help);
        Some(wrong.at(place.span, place.words.clone()))
    }
}

/// Keeps what is stated once.
fn put<T>(slot: &mut Option<(T, Written)>, what: &str, at: &Piece, value: T) -> Added {
    if let Some((_, first)) = slot {
        let help = "keep the line that holds".to_owned();
        return Err(twice(what, at, first, help));
    }
    *slot = Some((value, at.place.clone()));
    Ok(())
}

fn date(piece: &Piece) -> Result<Date, Diagnostic> {
    piece.text.trim().parse().map_err(|_| {
        let message = format!("`{}` is no date", piece.text);
        let help = "write year-month-day, such as `2026-06-01`";
        piece.wrong(Code::BadActuals, message, help)
    })
}

/// A number of days, `9`, `9 days` or `8 1/2`.
fn days(piece: &Piece, lines: &Lines) -> Result<f64, Diagnostic> {
    let words = piece.text.trim().to_lowercase();
    let number = ["days", "day", "d"]
        .iter()
        .find_map(|word| words.strip_suffix(word));
    let amount = Amount {
        amount: Piece {
            text: format!("{} d", number.unwrap_or(&words)),
            place: piece.place.clone(),
        },
        unit: None,
        price: None,
    };
    let day = lines.units.parse("d");
    let read = used(
        &amount,
        Kind::Of(Dim::TIME, DAYS),
        &lines.units,
        lines.currency,
    )?;
    let days = day.ok().and_then(|day| day.show(read.amount));
    Ok(days.unwrap_or_default())
}

fn remark(day: Option<Piece>, words: Piece) -> Result<Remark, Diagnostic> {
    Ok(Remark {
        day: day.as_ref().map(date).transpose()?,
        text: words.text,
        place: words.place,
    })
}
