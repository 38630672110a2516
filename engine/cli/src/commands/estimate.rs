//! `parge estimate`: the priced job on the terminal, as a workbook and as JSON.

mod many;

use crate::args::EstimateArgs;
use crate::files::Unwritten;
use crate::in_parts::InParts;
use crate::outputs::{self, Written};
use crate::session::{Estimated, Session};
use crate::table::{grouped, number, table, visible};
use crate::{Exit, World};
use parge_base::prices::PackSize;
use parge_base::{Code, Diagnostic, Money};
use parge_calc::job::{Profit, Rounding, Taxable};
use parge_calc::price::{Estimate, MaterialLine, Purchase, PurchaseLine, Status};
use parge_sheets::{SheetError, shown, write_json, write_json_in_parts, write_workbook};
use rust_decimal::Decimal;
use std::io::{self, Write};
use std::path::Path;

pub(crate) fn run(args: &EstimateArgs, world: &mut World<'_>) -> io::Result<Exit> {
    if world.folder.join(&args.plan).is_dir() {
        if args.range {
            writeln!(
                world.err,
                "error: `--range` is for one plan\n\nhelp: name the plan, as `parge estimate PLAN --range`\n"
            )?;
            return Ok(Exit::Usage);
        }
        return many::run(args, world);
    }
    if args.workbooks.is_some() {
        writeln!(
            world.err,
            "error: `--workbooks` is for a folder of plans\n\nhelp: write the workbook of one plan by `-o`\n"
        )?;
        return Ok(Exit::Usage);
    }
    // Only what is written face by face can be written without holding them all.
    if args.output.is_none()
        && !args.range
        && let Some((session, made)) = InParts::of(&args.plan, world)
    {
        let faces = |session: &Session, to: &mut dyn Write| {
            let (print, said) = (&made.estimated.fingerprint, &session.diagnostics);
            let faces = made.faces(session);
            write_json_in_parts(&made.estimated.estimate, faces, print, said, to)
        };
        return tell(args, session, Some((&made.estimated, &faces)), world);
    }
    let mut session = Session::default();
    let loaded = session.load(&args.plan, world);
    let estimated = loaded.and_then(|loaded| {
        let mut estimated = session.estimated(&loaded)?;
        let before = session.diagnostics.len();
        if args.range {
            session.with_range(&loaded, &mut estimated);
        }
        (session.diagnostics.len() == before).then_some(estimated)
    });
    let whole = estimated.as_ref().map(|estimated| {
        move |session: &Session, to: &mut dyn Write| {
            let Estimated {
                estimate,
                fingerprint,
                ..
            } = estimated;
            let (sources, said) = (&session.sources, session.diagnostics.as_slice());
            write_json(estimate, fingerprint, sources, said, to)
        }
    });
    let whole = whole.as_ref();
    let made = estimated.as_ref().zip(whole.map(|json| json as &Json<'_>));
    tell(args, session, made, world)
}

/// Writes the estimate as JSON.
type Json<'j> = dyn Fn(&Session, &mut dyn Write) -> io::Result<()> + 'j;

/// Writes what was asked for and tells the rest; nothing of an estimate that could not be made.
fn tell(
    args: &EstimateArgs,
    mut session: Session,
    made: Option<(&Estimated, &Json<'_>)>,
    world: &mut World<'_>,
) -> io::Result<Exit> {
    if let Some((estimated, json)) = made {
        parge_base::diagnostic::tidy(&mut session.diagnostics);
        match write(args, &estimated.estimate, json, &session, world) {
            Ok(()) if args.json.as_deref() == Some(Path::new(TERMINAL)) => {
                json(&session, &mut world.out)?;
                writeln!(world.out)?;
            }
            Ok(()) => show(&estimated.estimate, world)?,
            Err(diagnostic) => session.diagnostics.push(diagnostic),
        }
    }
    session.report(world)
}

/// Stands for the terminal in place of a file's name.
const TERMINAL: &str = "-";

/// Writes the files that were asked for.
fn write(
    args: &EstimateArgs,
    estimate: &Estimate,
    write_json: &Json<'_>,
    session: &Session,
    world: &World<'_>,
) -> Result<(), Diagnostic> {
    let (sources, said) = (&session.sources, session.diagnostics.as_slice());
    let bill = args.csv.as_ref();
    let bill = bill.map(|_| parge_sheets::bill_of_materials(estimate).into_bytes());
    let mut files = Vec::new();
    if let Some(path) = &args.output {
        files.push(Written {
            path: outputs::workbook_path(path, &world.folder)?,
            write: Box::new(|file| {
                write_workbook(estimate, sources, said, file).map_err(no_workbook)
            }),
        });
    }
    let json = args.json.as_ref();
    if let Some(path) = json.filter(|path| *path != Path::new(TERMINAL)) {
        files.push(Written {
            path: world.folder.join(path),
            write: Box::new(|file| Ok(write_json(session, file)?)),
        });
    }
    if let (Some(path), Some(bytes)) = (&args.csv, &bill) {
        let help = "name the bill of materials as one, such as `--csv materials.csv`";
        let path = outputs::named(path, &world.folder, "csv", help)?;
        files.push(Written {
            path,
            write: Box::new(|file| Ok(file.write_all(bytes)?)),
        });
    }
    let mut read = session.files.clone();
    read.push(world.folder.join(&args.plan));
    // Lines of values have no mark of their own: only the same ones are known to be the program's.
    let is_own = |path: &Path| {
        outputs::is_untouched(path) || bill.as_ref().is_some_and(|bill| outputs::holds(path, bill))
    };
    outputs::write_each(&files, &read, is_own, args.force)
}

/// Why there is no workbook.
fn no_workbook(error: SheetError) -> Unwritten {
    let message = format!("the workbook cannot be made: {error}");
    let help = "divide the job into several plans";
    match error {
        SheetError::Failed(why) => Unwritten::Io(io::Error::other(why)),
        SheetError::TooManyRows { .. } | SheetError::TooManyColumns { .. } => {
            Unwritten::Said(Diagnostic::new(Code::CannotWrite, message, help))
        }
    }
}

fn show(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let currency = estimate.currency.code();
    let money = |amount: Option<Money>| {
        amount.map_or("no price".to_owned(), |amount| grouped(&amount.to_text()))
    };
    let materials = estimate.materials.iter().map(|line| {
        let material = &line.material;
        let show = |quantity| number(material.unit.show(quantity).unwrap_or_default(), 2);
        let pack = line.pack.as_ref().map_or(String::new(), pack_words);
        vec![
            material.description.clone(),
            format!(
                "{} {}",
                show(material.need),
                shown::print_unit(material.unit.text())
            ),
            show(material.waste),
            line.packs.map_or(String::new(), |packs| number(packs, 0)),
            pack,
            line.unit_price.map_or("no price".to_owned(), |price| {
                grouped(&price.to_price_text())
            }),
            money(line.cost),
        ]
    });
    let names = [
        "material", ">need", ">waste", ">packs", "pack", ">price", ">cost",
    ];
    let rows = materials.collect();
    writeln!(
        world.out,
        "{}: materials, in {currency}",
        visible(&estimate.takeoff.measured.job.name)
    )?;
    writeln!(world.out, "{}\n", table(&names, rows, world.width))?;
    purchases(estimate, world)?;
    let labour = estimate.labour.iter().map(|line| {
        vec![
            line.labour.description.clone(),
            number(line.labour.hours, 2),
            money(line.cost),
        ]
    });
    let rows = labour.collect();
    writeln!(
        world.out,
        "{}\n",
        table(&["labour", ">hours", ">cost"], rows, world.width)
    )?;
    kit(estimate, world)?;
    price(estimate, world)
}

fn kit(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let tools = estimate.takeoff.kit.iter().map(|tool| {
        vec![
            tool.description.clone(),
            number(tool.count, 0),
            shown::tool_from(tool, estimate).words().to_owned(),
            tool.reasons.join("; "),
        ]
    });
    let rows: Vec<Vec<String>> = tools.collect();
    if rows.is_empty() {
        return Ok(());
    }
    let names = ["tool", ">count", "from", "taken for"];
    writeln!(world.out, "{}", table(&names, rows, world.width))?;
    if let Some(text) = shown::hire_not_priced(estimate) {
        writeln!(world.out, "{text}")?;
    }
    writeln!(world.out)
}

/// A pack in words: `pail of 5 gal`, or `bag` for one bag.
fn pack_words(pack: &PackSize) -> String {
    let unit = pack.unit.text();
    if pack.written == 1.0 && pack.name == unit {
        return shown::print_unit(unit);
    }
    format!(
        "{} of {} {}",
        pack.name,
        grouped(&pack.written.to_string()),
        shown::print_unit(unit)
    )
}

fn price(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let price = &estimate.price;
    let bid = &estimate.takeoff.measured.job.bid;
    let percent = |rate: Decimal| format!("{}%", (rate * Decimal::ONE_HUNDRED).normalize());
    let stated = |rate: Option<Decimal>| rate.map_or("not stated".to_owned(), percent);
    let profit = match bid.profit {
        None => "profit (not stated)".to_owned(),
        Some(Profit::Markup(rate)) => format!("profit (markup {} of cost)", percent(rate)),
        Some(Profit::Margin(rate)) => format!("profit (margin {} of price)", percent(rate)),
    };
    let tax = match bid.tax {
        None => "tax (not stated)".to_owned(),
        Some((rate, Taxable::Materials)) => format!("tax ({} on materials)", percent(rate)),
        Some((rate, Taxable::Total)) => format!("tax ({} on total)", percent(rate)),
    };
    let total = match estimate.status {
        Status::Complete => "total".to_owned(),
        Status::Incomplete => "total, INCOMPLETE: lines without a price are not in it".to_owned(),
    };
    let is_there = |amount: Money| !amount.amount().is_zero();
    let mut lines = vec![("materials".to_owned(), price.materials)];
    if is_there(price.freight) {
        lines.push(("freight".to_owned(), price.freight));
    }
    lines.extend([
        ("labour".to_owned(), price.labour),
        (
            format!("burden on labour ({})", stated(bid.burden)),
            price.burden,
        ),
        (
            format!("overhead ({})", stated(bid.overhead)),
            price.overhead,
        ),
    ]);
    if bid.contingency.is_some() || is_there(price.contingency) {
        let of_class = match (&estimate.contingency.by_class, bid.class) {
            (Some(_), Some(class)) => format!(" for class {}", class.number()),
            _ => String::new(),
        };
        let rate = percent(estimate.contingency.rate);
        lines.push((format!("contingency ({rate}{of_class})"), price.contingency));
    }
    lines.push((profit, price.profit));
    let content = &estimate.takeoff.measured.job.content;
    lines.extend(content.allowances.iter().map(|allowance| {
        let name = format!("allowance: {}", visible(&allowance.name));
        (name, allowance.amount)
    }));
    lines.extend(estimate.charges.iter().map(|charge| {
        let name = format!("charge: {}", visible(&charge.name));
        (name, charge.amount)
    }));
    lines.extend(to_the_bid(estimate));
    lines.extend([(tax, price.tax), (total, price.total)]);
    let rows = lines
        .into_iter()
        .map(|(name, amount)| vec![name, grouped(&amount.to_text())])
        .collect();
    let heading = format!(">{}", estimate.currency.code());
    writeln!(
        world.out,
        "{}",
        table(&["price", &heading], rows, world.width)
    )?;
    expected(estimate, world)?;
    likely(estimate, world)?;
    alternates(estimate, world)?;
    sentences(estimate, world)?;
    let cautions = estimate.takeoff.cautions.iter().map(|caution| {
        let faces = if caution.faces == 0 {
            "the job".to_owned()
        } else {
            caution.faces.to_string()
        };
        let audience = caution.audience.word().to_owned();
        vec![caution.text.clone(), audience, faces]
    });
    let rows = cautions.collect();
    writeln!(
        world.out,
        "\n{}",
        table(&["caution", "for", ">faces"], rows, world.width)
    )
}

/// What brings the price before tax up to its minimum and rounds it, where the plan asks for it.
fn to_the_bid(estimate: &Estimate) -> Vec<(String, Money)> {
    let bid = &estimate.takeoff.measured.job.bid;
    let price = &estimate.price;
    let written = |amount: Money| {
        let code = amount.currency().code();
        format!("{} {code}", grouped(&amount.to_text()))
    };
    let mut lines = Vec::new();
    if let Some(least) = bid.minimum {
        lines.push((
            format!("up to the minimum of {}", written(least)),
            price.minimum,
        ));
    }
    if let Some(Rounding { up, multiple }) = bid.rounding {
        let up = if up { " up" } else { "" };
        let name = format!("rounding{up} to {}", written(multiple));
        lines.push((name, price.rounding));
    }
    lines
}

/// Between which amounts the total is expected.
fn expected(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let Some(range) = estimate.range else {
        return Ok(());
    };
    let signed = |[low, high]: [i64; 2]| format!("{low} % to +{high} %");
    let between = |[low, high]: [Money; 2]| {
        let [low, high] = [low, high].map(|amount| grouped(&amount.to_text()));
        format!("{low} to {high}")
    };
    let class = range.class;
    writeln!(
        world.out,
        "class {} (AACE 18R-97): expected {}, {}; at best {}, {}",
        class.number(),
        between(range.outer),
        signed(class.outer()),
        between(range.inner),
        signed(class.inner())
    )
}

/// The range in which the total is likely to lie, and what causes most of it.
fn likely(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    /// Causes of less than this share of the range are not listed.
    const LEAST: f64 = 0.01;
    let Some(likely) = &estimate.likely else {
        return Ok(());
    };
    let [low, middle, high] =
        [likely.low, likely.middle, likely.high].map(|amount| grouped(&amount.to_text()));
    writeln!(
        world.out,
        "likely total: {low} to {high} in 8 of 10 cases, {middle} in the middle of them"
    )?;
    let percent = |share: f64, decimals| format!("{:.decimals$} %", share * 100.0);
    let causes = likely.causes.iter().filter(|cause| cause.share >= LEAST);
    let rows = causes.map(|cause| {
        vec![
            cause.name.clone(),
            percent(cause.spread, 1),
            percent(cause.share, 0),
        ]
    });
    let names = [
        "what the range comes of",
        ">strays by",
        ">share of the range",
    ];
    let text = table(&names, rows.collect(), world.width);
    writeln!(world.out, "\n{text}")?;
    match likely.certain {
        0 => Ok(()),
        more => writeln!(
            world.out,
            "taken as certain, since table `spread` does not have them: {more} other cells of the pack"
        ),
    }
}

/// What is bought of whom, where the price book says more of it than prices.
fn purchases(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let chosen = |line: &&MaterialLine| {
        let choice = line.choice.as_ref();
        choice.is_some_and(|choice| !choice.reason.is_empty())
    };
    let reasons = estimate.materials.iter().filter(chosen).map(|line| {
        let reason = line.choice.as_ref().map_or("", |choice| &choice.reason);
        vec![line.material.description.clone(), reason.to_owned()]
    });
    let reasons: Vec<Vec<String>> = reasons.collect();
    if !reasons.is_empty() {
        let text = table(&["offer for", "why"], reasons, world.width);
        writeln!(world.out, "{text}\n")?;
    }
    let has_terms = |purchase: &Purchase| {
        let lead = |line: &PurchaseLine| line.lead_days.is_some();
        purchase.freight.is_some() || purchase.lines.iter().any(lead)
    };
    if !estimate.purchases.iter().any(has_terms) {
        return Ok(());
    }
    let rows = estimate.purchases.iter().map(|purchase| {
        let freight = purchase.freight.as_ref();
        let freight = freight.map(|freight| grouped(&freight.amount.to_text()));
        let first = purchase.lines.iter().filter_map(|line| line.order_by).min();
        let lead = purchase
            .lines
            .iter()
            .filter_map(|line| line.lead_days)
            .max();
        vec![
            purchase.supplier.clone(),
            purchase.lines.len().to_string(),
            grouped(&purchase.cost.to_text()),
            freight.unwrap_or_default(),
            lead.map_or(String::new(), |days| days.to_string()),
            first.map_or(String::new(), |day| day.to_string()),
        ]
    });
    let names = [
        "supplier",
        ">items",
        ">cost",
        ">freight",
        ">longest lead, days",
        "order by",
    ];
    writeln!(
        world.out,
        "{}\n",
        table(&names, rows.collect(), world.width)
    )
}

fn alternates(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    if estimate.alternates.is_empty() {
        return Ok(());
    }
    let rows = estimate.alternates.iter().map(|alternate| {
        let difference = match alternate.difference {
            None => "no price".to_owned(),
            Some(more) if more.amount().is_sign_negative() => grouped(&more.to_text()),
            Some(more) => format!("+{}", grouped(&more.to_text())),
        };
        vec![
            alternate.name.clone(),
            alternate.changes.join("; "),
            difference,
        ]
    });
    let heading = format!(">changes the total by, {}", estimate.currency.code());
    let names = ["alternate", "what it changes", &heading];
    writeln!(
        world.out,
        "\n{}",
        table(&names, rows.collect(), world.width)
    )
}

fn sentences(estimate: &Estimate, world: &mut World<'_>) -> io::Result<()> {
    let content = &estimate.takeoff.measured.job.content;
    let kinds = [
        ("excluded", &content.exclusions),
        ("note", &content.notes),
        ("terms", &content.terms),
    ];
    let rows: Vec<Vec<String>> = kinds
        .into_iter()
        .flat_map(|(kind, texts)| {
            texts
                .iter()
                .map(move |text| vec![kind.to_owned(), text.clone()])
        })
        .collect();
    if rows.is_empty() {
        return Ok(());
    }
    writeln!(
        world.out,
        "\n{}",
        table(&["the bid says", ""], rows, world.width)
    )
}
