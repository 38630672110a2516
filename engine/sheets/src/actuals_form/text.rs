//! The form as a text.

use super::{Form, Row, What};

const HEAD: &str = "# What was used on the job. Write how much in place of ___, in the unit beside it. What is left
# blank counts as not recorded, so write 0 for what was not used. Add with +, as in 64 + 40 bag.
# What stands behind # is for you to read.
";

const ON_SITE: &str = "
# The first and the last day on site, and the days on which work went on
";

const MATERIALS: &str = "
# Materials: what came to the site, less what went back. What one of the unit cost, where it was not
# as in the price book, stands behind: finish-mix 104 bag at 25.10 USD
";

const HOURS: &str = "
# Hours, of all people together. Who knows only those of a whole phase writes one line for it
# without a structure, as in hours place 80 h, and leaves the others blank.
";

const AREAS: &str = "
# What was coated, only where it was not as in the plan: without openings, with reveals
";

const NOTED: &str = "
# Weather and remarks; a day may stand before them, as in remark 2026-06-03 two bags burst
";

/// The widest that names are set beside each other.
const WIDEST: usize = 44;

pub(super) fn text(form: &Form) -> String {
    let mut out = String::from(HEAD);
    let of = |what: What| form.rows.iter().filter(move |row| row.what == what);
    let name = |what| of(what).map(|row| row.name.as_str()).next().unwrap_or("");
    out += &format!("job {}\n", quoted(name(What::Job)));
    let [plan, rules, prices] = [What::PricedPlan, What::PricedRules, What::PricedPrices].map(name);
    out += &format!("priced plan {plan} rules {rules} prices {prices}\n");
    for row in of(What::Rules) {
        out += &format!("rules {} {}\n", row.name, row.note);
    }
    out += ON_SITE;
    out += "day ____-__-__ to ____-__-__\ndays ___\n";
    for (head, what) in [
        (MATERIALS, What::Material),
        (HOURS, What::Hours),
        (AREAS, What::Area),
    ] {
        let rows: Vec<&Row> = of(what).collect();
        if !rows.is_empty() {
            out += head;
            out += &lines(&rows);
        }
    }
    out += NOTED;
    for row in form.rows.iter() {
        if let What::Weather | What::Remark = row.what {
            out += &format!("{} ___\n", row.what.word());
        }
    }
    out
}

/// Rows with an amount, set beside each other.
fn lines(rows: &[&Row]) -> String {
    let heads: Vec<String> = rows.iter().map(|row| head(row)).collect();
    let width = |text: &String| text.chars().count();
    let widest = heads.iter().map(width).max().unwrap_or(0).min(WIDEST);
    let units = rows.iter().map(|row| row.unit.chars().count());
    let unit = units.max().unwrap_or(0);
    let mut out = String::new();
    for (row, head) in rows.iter().zip(&heads) {
        let line = format!(
            "{head:widest$}  ___ {:unit$}  # {}",
            row.unit,
            one_line(&row.note)
        );
        out += line.trim_end_matches([' ', '#']);
        out.push('\n');
    }
    out
}

fn head(row: &Row) -> String {
    match row.what {
        What::Hours => {
            let place = match row.place.as_str() {
                "" => String::new(),
                "job" => " job".to_owned(),
                structure => format!(" {}", quoted(structure)),
            };
            format!("hours {}{place}", name(&row.name))
        }
        What::Area => format!("area {}", quoted(&row.place)),
        _ => name(&row.name),
    }
}

/// The name of an item or a phase: in quotes where it would be read as something else.
fn name(name: &str) -> String {
    let plain = |ch: char| ch.is_alphanumeric() || matches!(ch, '-' | '/' | '_');
    let is_plain = name.chars().all(plain) && !name.starts_with(|ch: char| !ch.is_alphabetic());
    match is_plain {
        true => name.to_owned(),
        false => quoted(name),
    }
}

fn quoted(name: &str) -> String {
    format!("\"{}\"", one_line(name).replace('"', "'"))
}

fn one_line(text: &str) -> String {
    crate::text::visible(&text.replace(['\n', '\r', '\t'], " "))
}
