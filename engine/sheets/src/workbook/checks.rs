//! The sheet of checks: what must hold for the figures to be those that Parge would reckon. A
//! change of an input that no formula can follow is told here, and on the summary.

use super::addresses::{Addresses, column, number};
use super::page::{Column, Frame, HEAD_ROW, Page, lines_between};
use super::style::Look;
use super::{
    alternates, bid, classes, edges, faces, factors, labour, materials, purchases, sizes, summary,
    workings,
};
use crate::shown;
use parge_calc::live::{Cell, Goes, Rows};
use parge_calc::price::Estimate;
use rust_xlsxwriter::{Worksheet, XlsxError};

pub(super) const NAME: &str = "Checks";

const MARK: usize = 1;
const FINDING: usize = 2;

/// How many checks there are.
const CHECKS: usize = 9;

/// The number of checks that do not hold, but for the first: the status says by itself how many
/// lines have no price.
pub(super) fn amiss() -> String {
    let marks = lines_between(NAME, MARK, 1, CHECKS - 1);
    // A check that is an error does not hold either.
    format!("{}-COUNTIF({marks},0)", CHECKS - 1)
}

/// A check.
struct Check {
    what: &'static str,
    /// How many things are amiss.
    number: String,
    now: f64,
    /// What to do about it.
    help: &'static str,
}

pub(super) fn write(
    sheet: &mut Worksheet,
    frame: &Frame,
    estimate: &Estimate,
    of: &Addresses<'_>,
) -> Result<(), XlsxError> {
    let columns = vec![
        Column::text("What must hold", 62.0),
        Column::number("Amiss", Look::Count),
        Column::text("Finding", 90.0),
    ];
    let mut page = Page::begin(sheet, frame, NAME, columns)?;
    page.note("Each line counts what is amiss. While one is not 0, the total is not what Parge would reckon.")?;
    page.header(HEAD_ROW)?;
    page.freeze()?;
    let all = checks(estimate, of);
    debug_assert_eq!(all.len(), CHECKS);
    for check in all {
        page.blank()?;
        page.text(0, check.what)?;
        page.formula(MARK, &format!("={}", check.number), check.now)?;
        let mark = page.here(MARK);
        let finding = format!("=IF({mark}=0,\"holds\",\"{}\")", check.help);
        let said = if check.now == 0.0 {
            "holds"
        } else {
            check.help
        };
        page.formula_saying(FINDING, &finding, said)?;
        page.next()?;
    }
    let last = page.row().saturating_sub(1);
    page.alarm_above_nothing([HEAD_ROW + 1, last], MARK)?;
    page.end()
}

fn checks(estimate: &Estimate, of: &Addresses<'_>) -> Vec<Check> {
    let live = of.live;
    let face_lines = estimate.takeoff.measured.faces.len();
    let marks = |wanted: usize| {
        let rows = classes::rows(live);
        format!("SUM({})", column(classes::NAME, wanted, rows.max(1)))
    };
    let faces_sum = |wanted: usize| format!("SUM({})", column(faces::NAME, wanted, face_lines));
    let rules = (0..live.versions.len())
        .map(|version| workings::sum_of(of, version, Goes::Check))
        .collect::<Vec<_>>()
        .join("+");
    let planned = column(workings::NAME, workings::PLANNED, live.workings.len());
    let open = shown::open_lines(estimate) as f64;
    let has_days = live.versions.iter().any(|version| version.has_days);
    let check = |what, number, now, help| Check {
        what,
        number,
        now,
        help,
    };
    vec![
        check(
            "Every line has a price",
            format!(
                "SUM({})+SUM({})",
                materials::marks(estimate),
                labour::marks(estimate)
            ),
            open,
            "INCOMPLETE: write the missing prices on sheets Materials and Labour",
        ),
        check(
            "The rules go the same way as when the workbook was written",
            format!("{rules}+{}", marks(classes::OTHER_RULE)),
            0.0,
            "a rule would turn out differently: change the plan, and have Parge reckon anew",
        ),
        check(
            "Openings fit into faces, and sizes make shapes",
            format!("{}{}", faces_sum(faces::MISFIT), edges_misfit(estimate)),
            0.0,
            "sizes do not go together, or nobody has looked whether they do: see sheet Faces, and let Parge check the plan",
        ),
        check(
            "Lath and paper are laid out for these sizes",
            marks(classes::LAID_OUT),
            0.0,
            "pieces are still those of the sizes as they were: have Parge lay them out anew",
        ),
        check(
            "The days are planned for these hours",
            match has_days {
                true => format!(
                    "SUM({planned})+{}+SUM({})+SUM({})",
                    faces_sum(faces::CHANGED),
                    column(sizes::NAME, sizes::PLANNED, sizes::lines(of)),
                    column(factors::NAME, factors::PLANNED, of.factors.len())
                ),
                false => "0".to_owned(),
            },
            0.0,
            "what the days take (setting up, travel, shade) is still that of the hours as they were: have Parge plan them anew",
        ),
        check(
            "The offers that were chosen are still the cheapest",
            match materials::choices(estimate) {
                Some(marks) => format!("SUM({marks}){}", of_alternates(of, 1)),
                None => format!("0{}", of_alternates(of, 1)),
            },
            0.0,
            "packs or prices of an item with several offers have changed: have Parge choose anew",
        ),
        check(
            "Every shaded cell holds a number, and a size is above nothing where it was",
            numbers(estimate, of),
            0.0,
            "a shaded cell is empty or holds words, or a size is nothing or less: look at sheets Sizes, Factors, Summary, Bid, Purchases, Labour and those of the alternates",
        ),
        check(
            "No factor differs by more than half from the rule pack",
            format!(
                "SUM({})",
                column(factors::NAME, factors::FAR, of.factors.len())
            ),
            0.0,
            "a factor on sheet Factors is far from the rule pack: check its decimal point and its unit",
        ),
        check(
            "The classes hold every face",
            unlike(estimate, of),
            0.0,
            "the sheets Faces and Classes do not agree: a formula has been overwritten",
        ),
    ]
}

/// Marks of every version but the estimate itself, of its lines or of its offers.
fn of_alternates(of: &Addresses<'_>, which: usize) -> String {
    let others = of.live.versions.iter().enumerate().skip(1);
    let sums = others.map(|(number, version)| {
        let [open, choose] = alternates::marks(number, version.estimate);
        let sum = if which == 0 { open } else { choose };
        format!("+{sum}")
    });
    sums.collect()
}

/// Cells that are reckoned with and hold no number.
fn numbers(estimate: &Estimate, of: &Addresses<'_>) -> String {
    let factors = of.factors.len();
    let cells = column(factors::NAME, factors::STATED, factors);
    let mut parts = vec![
        format!(
            "SUM({})",
            column(sizes::NAME, sizes::AMISS, sizes::lines(of))
        ),
        format!("{factors}-COUNT({cells})"),
    ];
    let money = [
        Some(summary::terms()),
        bid::allowances(estimate).map(|cells| {
            let allowances = estimate.takeoff.measured.job.content.allowances.len();
            (cells, allowances)
        }),
        purchases::deliveries(estimate),
        labour::people(estimate),
    ];
    for (cells, wanted) in money.into_iter().flatten() {
        parts.push(format!("{wanted}-COUNT({cells})"));
    }
    format!("{}{}", parts.join("+"), of_alternates(of, 0))
}

/// Edges whose count is no number of things.
fn edges_misfit(estimate: &Estimate) -> String {
    match estimate.takeoff.measured.job.edges.len() {
        0 => String::new(),
        lines => format!("+SUM({})", column(edges::NAME, edges::MISFIT, lines)),
    }
}

/// Whether the faces of all classes are not as many as those of the sheet of faces.
fn unlike(estimate: &Estimate, of: &Addresses<'_>) -> String {
    let live = of.live;
    let Some(version) = live.versions.first() else {
        return "0".to_owned();
    };
    let mut counts = Vec::new();
    for number in version.classes.clone() {
        let Some(class) = live.classes.get(number) else {
            continue;
        };
        if matches!(class.rows, Rows::Faces(_)) {
            counts.push(of.cell(Cell::ClassCount(number)));
        }
    }
    if counts.is_empty() || counts.len() > MOST_PARTS {
        return "0".to_owned();
    }
    let lines = estimate.takeoff.measured.faces.len();
    let all = column(faces::NAME, faces::COUNT, lines);
    format!(
        "IF(ABS(SUM({all})-({}))>{},1,0)",
        counts.join("+"),
        number(1e-9)
    )
}

/// Classes whose counts one formula can add up.
const MOST_PARTS: usize = 200;
