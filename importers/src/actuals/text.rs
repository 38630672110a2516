//! The text form, line by line.

use super::amount::{is_digit, is_filled};
use super::cut::Cut;
use super::entry::{Amount, At, Entry, Piece, Print, is_blank};
use parge_base::actuals::Lines;
use parge_base::{Code, Diagnostic, FileId, Sources};

/// What a line may begin with; all others begin with an item.
const WORDS: [&str; 9] = [
    "job", "priced", "rules", "day", "days", "hours", "area", "weather", "remark",
];

/// What lies between the first and the last day.
const TO: &str = "to";

/// What stands before a price.
const AT: &str = "at";

type Read = Result<Vec<Entry>, Diagnostic>;

pub(super) fn read(
    sources: &Sources,
    file: FileId,
    lines: &Lines,
) -> (Vec<Entry>, Vec<Diagnostic>) {
    let text = sources.text(file);
    let body = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (mut entries, mut said) = (Vec::new(), Vec::new());
    let mut start = text.len() - body.len();
    for line in body.split('\n') {
        let cut = Cut {
            text: line,
            file,
            start,
        };
        start += line.len() + 1;
        match of_line(cut, lines) {
            Ok(found) => entries.extend(found),
            Err(wrong) => said.push(wrong),
        }
    }
    (entries, said)
}

fn of_line(line: Cut<'_>, lines: &Lines) -> Read {
    let (first, rest) = line.word();
    let word = first.text.trim_end_matches(':').to_lowercase();
    let word = WORDS.into_iter().find(|known| *known == word);
    if let Some(word @ ("weather" | "remark")) = word {
        return sentence(word == "weather", rest);
    }
    let comment = line.find_all(|before, behind| before.is_whitespace() && behind.starts_with('#'));
    let comment = comment.first().copied().unwrap_or(line.text.len());
    let line = line.split(comment).0.trim();
    if line.text.is_empty() {
        return Ok(Vec::new());
    }
    if line.text.matches('"').count() % 2 == 1 {
        let help = "close the quotes behind the name";
        return Err(wrong(line, "a quoted name is not closed", help));
    }
    let rest = line.word().1;
    match word {
        Some("job") => Ok(filled(rest.name()).map(Entry::Job).into_iter().collect()),
        Some("priced") => priced(line, rest),
        Some("rules") => rules(line, rest),
        Some("day") => days_on_site(line, rest),
        Some("days") => Ok(filled(rest).map(Entry::Days).into_iter().collect()),
        Some("hours") => hours(line, rest, lines),
        Some("area") => area(line, rest, lines),
        _ => item(line, lines),
    }
}

fn wrong(at: Cut<'_>, message: &str, help: &str) -> Diagnostic {
    Diagnostic::new(Code::BadActuals, message, help).at(at.span(), "")
}

/// A text, unless it was left blank.
fn filled(cut: Cut<'_>) -> Option<Piece> {
    let cut = cut.trim();
    (!is_blank(cut.text)).then(|| cut.piece())
}

/// Weather or a remark: a day where it begins with one, and words.
fn sentence(is_weather: bool, rest: Cut<'_>) -> Read {
    let (first, behind) = rest.word();
    let is_day = |text: &str| text.parse::<jiff::civil::Date>().is_ok();
    let (day, words) = match is_day(first.text.trim_end_matches([':', ','])) {
        true => (Some(first), behind),
        false => (None, rest),
    };
    let day = day.map(|day| {
        let text = day.text.trim_end_matches([':', ',']);
        Cut { text, ..day }.piece()
    });
    let Some(words) = filled(words) else {
        return Ok(Vec::new());
    };
    Ok(vec![match is_weather {
        true => Entry::Weather { day, words },
        false => Entry::Remark { day, words },
    }])
}

/// `priced plan dljabmcaohne rules hh… prices kl…`
fn priced(line: Cut<'_>, mut rest: Cut<'_>) -> Read {
    let mut entries = Vec::new();
    while !rest.text.is_empty() {
        let (part, behind) = rest.word();
        let (print, behind) = behind.word();
        rest = behind;
        let of = match part.text {
            "plan" => Print::Plan,
            "rules" => Print::Rules,
            "prices" => Print::Prices,
            other => {
                let message = format!("`{other}` is nothing that a job is priced by");
                let help = "write `priced plan … rules … prices …` as the form has it";
                return Err(wrong(part, &message, help));
            }
        };
        if print.text.is_empty() {
            let help = "write it as the form has it, or leave the line out";
            return Err(wrong(line, "a fingerprint is missing", help));
        }
        entries.extend(filled(print).map(|print| Entry::Priced(of, print)));
    }
    Ok(entries)
}

/// `rules our-rules 1.0 on vertical-concrete 0.2.0`
fn rules(line: Cut<'_>, rest: Cut<'_>) -> Read {
    let (name, version) = rest.word();
    if is_blank(name.text) {
        return Ok(Vec::new());
    }
    if version.text.is_empty() {
        let help = "write the pack and its version, such as `rules our-rules 1.0`";
        return Err(wrong(line, "the pack has no version", help));
    }
    Ok(vec![Entry::Rules {
        name: name.name().piece(),
        version: version.text.to_owned(),
    }])
}

/// `day 2026-06-01 to 2026-06-12`, or one day alone.
fn days_on_site(line: Cut<'_>, rest: Cut<'_>) -> Read {
    let (first, behind) = rest.word();
    let (to, last) = behind.word();
    if !to.text.is_empty() && to.text != TO {
        let help = "write the first and the last day, such as `day 2026-06-01 to 2026-06-12`";
        return Err(wrong(line, "the days on site cannot be read", help));
    }
    let last = if to.text.is_empty() { first } else { last };
    let first = filled(first).map(Entry::FirstDay);
    Ok(first
        .into_iter()
        .chain(filled(last).map(Entry::LastDay))
        .collect())
}

/// The name before an amount, and the amount with its price; no amount where it was left blank. A
/// name that is known may have numbers in it, as `Bay 2 36 h`.
fn named_amount<'t>(
    line: Cut<'t>,
    rest: Cut<'t>,
    example: &str,
    is_known: impl Fn(Cut<'t>) -> bool,
) -> Result<(Cut<'t>, Option<Amount>), Diagnostic> {
    let begins = |before: char, behind: &str| before.is_whitespace() && is_amount(behind);
    let starts = rest.find_all(begins);
    let known = starts
        .iter()
        .rev()
        .find(|at| is_known(rest.split(**at).0.name()));
    let Some(at) = known.or(starts.first()).copied() else {
        let help =
            format!("write how much, such as `{example}`, or `___` for what is not recorded");
        return Err(wrong(line, "the line states no amount", &help));
    };
    let (name, amount) = rest.split(at);
    let price = amount.find_all(|before, behind| before.is_whitespace() && behind.starts_with(AT));
    let price = price.first().copied().unwrap_or(amount.text.len());
    let (amount, price) = amount.split(price);
    let price = price.word().1;
    let amount = amount.trim();
    let amount = is_filled(amount.text).then(|| Amount {
        amount: amount.piece(),
        unit: None,
        price: filled(price),
    });
    Ok((name.name(), amount))
}

/// Whether an amount, or a place left blank for one, begins here. Dots that lead from a name to
/// its amount are neither.
fn is_amount(text: &str) -> bool {
    let text = text.trim_start_matches(['+', '-']);
    let text = text.strip_prefix('.').unwrap_or(text);
    text.starts_with(is_digit) || text.starts_with('_')
}

/// `finish-mix 104 bags at 25.10 USD`
fn item(line: Cut<'_>, lines: &Lines) -> Read {
    let is_known = |name: Cut<'_>| lines.item(name.text).is_some();
    let (name, amount) = named_amount(line, line, "finish-mix 104 bags", is_known)?;
    if name.text.is_empty() {
        let help = "begin with the item, such as `finish-mix 104 bags`";
        return Err(wrong(line, "the line names no item", help));
    }
    let name = name.piece();
    Ok(amount
        .map(|amount| Entry::Item { name, amount })
        .into_iter()
        .collect())
}

/// `hours place "Grotto" 36 h`
fn hours(line: Cut<'_>, rest: Cut<'_>, lines: &Lines) -> Read {
    let is_known = |names: Cut<'_>| match phase_and_place(names, lines) {
        (phase, At::Structure(name)) => {
            lines.phase(phase.text).is_some() && lines.structure(&name.text).is_some()
        }
        (phase, _) => lines.phase(phase.text).is_some(),
    };
    let (names, amount) = named_amount(line, rest, "hours place 36 h", is_known)?;
    let (phase, at) = phase_and_place(names, lines);
    if phase.text.is_empty() {
        let help = "name the phase, such as `hours place 36 h`";
        return Err(wrong(line, "the line names no phase", help));
    }
    let phase = phase.piece();
    let entry = amount.map(|amount| Entry::Hours { phase, at, amount });
    Ok(entry.into_iter().collect())
}

/// A phase, and behind it the structure, in quotes or not, or `job`.
fn phase_and_place<'t>(names: Cut<'t>, lines: &Lines) -> (Cut<'t>, At) {
    let quote = names.text.find('"').filter(|at| *at > 0);
    let (phase, place) = match quote {
        Some(at) => names.split(at),
        None => names.split(phase_end(names, lines)),
    };
    let at = match place.name() {
        place if place.text.is_empty() => At::Whole,
        place if quote.is_none() && place.text == "job" => At::Job,
        place => At::Structure(place.piece()),
    };
    (phase.name(), at)
}

/// Where a phase ends that nothing divides from what follows: behind the longest one that is
/// known, or else behind the first word.
fn phase_end(names: Cut<'_>, lines: &Lines) -> usize {
    let blanks = names
        .text
        .char_indices()
        .filter(|(_, letter)| letter.is_whitespace());
    let ends = blanks.map(|(at, _)| at).chain([names.text.len()]);
    let ends: Vec<usize> = ends.collect();
    let is_phase = |end: &&usize| {
        let name = names.text.get(..**end).unwrap_or("");
        lines.phase(name.trim_end_matches(':')).is_some()
    };
    let known = ends.iter().rev().find(is_phase);
    known.or(ends.first()).copied().unwrap_or(names.text.len())
}

/// `area "Grotto" 312 ft2`, `area "Grotto/back" 104 ft2`
fn area(line: Cut<'_>, rest: Cut<'_>, lines: &Lines) -> Read {
    let is_known = |name: Cut<'_>| {
        let (structure, face) = name.text.split_once('/').unwrap_or((name.text, ""));
        let line = lines.structure(structure.trim());
        line.is_some_and(|line| face.is_empty() || line.faces.iter().any(|known| known == face))
    };
    let (name, amount) = named_amount(line, rest, "area \"Grotto\" 312 ft2", is_known)?;
    if name.text.is_empty() {
        let help = "name the structure, such as `area \"Grotto\" 312 ft2`";
        return Err(wrong(line, "the line names no structure", help));
    }
    let slash = name
        .text
        .find('/')
        .filter(|_| lines.structure(name.text).is_none());
    let (structure, face) = name.split(slash.unwrap_or(name.text.len()));
    let face = slash.map(|_| face.split(1).1.trim().piece());
    let structure = structure.trim().piece();
    let entry = amount.map(|amount| Entry::Area {
        structure,
        face,
        amount,
    });
    Ok(entry.into_iter().collect())
}
