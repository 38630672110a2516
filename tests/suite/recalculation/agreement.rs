//! The workbooks of the demo jobs say what the program says, as they are and after changes.

use super::book::Recalculated;
use super::changes;
use super::edit::Edit;
use super::find::At;
use super::value::{Value, same_money};
use super::{EXAMPLES, Made, said};
use parge_cli::Exit;
use parge_tests::Folder;
use proptest::collection::vec;
use proptest::test_runner::{Config, TestCaseError, TestRunner};

/// A wall that is estimated in no time.
const WALL: &str = r#"parge 1
job "Wall" {
  rules "vertical-concrete"
  prices "prices.csv"
  bid { burden 34%  overhead 12%  profit margin 18%  tax 7.25% on total }
}
finish plain { technique stamp thickness 3/4in colours granite 60%, moss 40% sealer matte }
structure "Wall" on block {
  finish plain
  face front rect 22ft 4in x 3ft 2in
  face ends rect 1ft x 3ft 2in count 2
}
"#;

fn example(name: &str) -> Folder {
    Folder::with_example(name).unwrap()
}

fn wall() -> Folder {
    let folder = Folder::with_demo().unwrap();
    folder.write("job.parge", WALL).unwrap();
    folder
}

fn total() -> At {
    At::line("Summary", &["Total"], "Amount")
}

/// Holds a workbook in which changes were typed in against the estimate of the job with the same
/// changes in its files: the total to the cent, and every formula that both workbooks have.
fn follows(folder: &Folder, workbook: &[u8], edits: &[Edit]) -> Result<(), String> {
    let mut book = Recalculated::open(workbook);
    for edit in edits {
        edit.write(folder);
        edit.type_in(&mut book);
    }
    book.recalculate();
    let after = Made::of(folder);
    let wanted = Recalculated::open(&after.workbook);

    let place = book.find(&total());
    let (shown, bid) = (book.read(&place).number(), after.total());
    if !same_money(shown, bid, book.money(&place).unwrap()) {
        return Err(format!("the workbook bids {shown}, the program {bid}"));
    }
    let differences = book.differences_from(&wanted);
    if !differences.is_empty() {
        return Err(said(&differences));
    }
    match book.errors().is_empty() {
        true => Ok(()),
        false => Err(format!("{:?}", book.errors())),
    }
}

#[track_caller]
fn must_follow(name: &str, edits: &[Edit]) {
    let folder = example(name);
    let made = Made::of(&folder);
    let answer = follows(&folder, &made.workbook, edits);
    assert_eq!(answer, Ok(()), "{name}: {edits:?}");
}

#[test]
fn every_formula_computes_what_was_stored_with_it() {
    for name in EXAMPLES {
        let made = Made::of(&example(name));
        let book = Recalculated::open(&made.workbook);
        assert!(book.stored().len() > 40, "{name}: {}", book.stored().len());
        let differences = book.differences();
        assert!(differences.is_empty(), "{name}:{}", said(&differences));
        assert_eq!(book.errors(), [], "{name}");
        let place = book.find(&total());
        assert_eq!(book.money(&place), Some(2), "{name}");
        assert!(
            same_money(book.read(&place).number(), made.total(), 2),
            "{name}"
        );
    }
}

#[test]
fn a_change_order_computes_what_was_stored_with_it() {
    let folder = example("alder-marsh");
    let told = folder.parge("diff job.parge revision.parge -o order.xlsx");
    assert_eq!(told.exit, Exit::Fine, "{told}");
    let book = Recalculated::open(&std::fs::read(folder.path("order.xlsx")).unwrap());
    let differences = book.differences();
    assert!(
        !book.stored().is_empty() && differences.is_empty(),
        "{}",
        said(&differences)
    );
    assert_eq!(book.errors(), []);
}

#[test]
fn a_price_typed_in_is_a_price_of_the_book() {
    let lines = ["finish-mix".to_owned()];
    must_follow("alder-marsh", &[Edit::price("finish-mix", &lines, "31.15")]);
}

#[test]
fn rates_typed_in_are_rates_of_the_plan() {
    let rates = [
        Edit::rate("overhead ", "Overhead", "14.5"),
        Edit::rate("profit margin ", "Profit", "21.25"),
        Edit::rate("tax ", "Tax", "8.125"),
    ];
    must_follow("tern-quay", &rates);
}

/// The test fails when the workbook does not follow, so that it is worth something.
#[test]
fn a_change_on_one_side_alone_is_seen() {
    let made = Made::of(&wall());
    let edit = Edit::wage("36.51");
    let files = Edit {
        cells: Vec::new(),
        ..edit.clone()
    };
    let cells = Edit {
        files: Vec::new(),
        ..edit
    };
    for half in [files, cells] {
        let answer = follows(&wall(), &made.workbook, &[half]);
        assert!(answer.unwrap_err().starts_with("the workbook bids "));
    }
}

/// An emptied price is missing, in the workbook as in the price book.
#[test]
fn an_emptied_price_is_said_and_is_not_nought() {
    let folder = example("alder-marsh");
    let made = Made::of(&folder);
    let mut book = Recalculated::open(&made.workbook);
    let lath = |head| At::line("Materials", &["metal-lath"], head);
    let cost = book.show(&lath("Cost")).number();
    let before = book
        .show(&At::line("Summary", &["Materials"], "Amount"))
        .number();
    book.set(&book.find(&lath("Price of a pack")), Value::Empty);
    book.recalculate();
    assert_eq!(book.show(&lath("Cost")), "no price".into());
    let status = book.show(&At::line("Summary", &["Total"], "Reckoned on"));
    assert_eq!(status, "INCOMPLETE: 1 line has no price".into());
    let after = book
        .show(&At::line("Summary", &["Materials"], "Amount"))
        .number();
    assert!(
        same_money(before - cost, after, 2),
        "{before} {cost} {after}"
    );
}

/// The mean of wages of which one is missing is no number, before and after it is computed.
#[test]
fn a_mean_without_one_of_its_wages_is_stored_as_none() {
    let folder = wall();
    let crew = "  crew { lead 1  finisher 2 }\n  bid {";
    folder.edit("job.parge", "  bid {", crew).unwrap();
    let classes = "labour/lead,Lead,1,h,hour,44.00,USD,,\nlabour/finisher,Finisher,1,h,hour,,USD,,";
    let one = "labour,Crew hour before burden,1,h,hour,36.50,USD,,";
    folder.edit("prices.csv", one, classes).unwrap();
    let told = folder.parge("estimate job.parge -o book.xlsx");
    assert_eq!(told.exit, Exit::Problems, "{told}");
    let book = Recalculated::open(&std::fs::read(folder.path("book.xlsx")).unwrap());
    let differences = book.differences();
    assert!(differences.is_empty(), "{}", said(&differences));
    let wage = At::Beside {
        sheet: "Labour",
        label: "Wage of an hour before burden",
    };
    assert_eq!(book.stored()[&book.find(&wage)].result, "".into());
}

/// Changes a job by chance, several ways at once, and holds its workbook against each.
#[track_caller]
fn follows_by_chance(cases: u32, job: impl Fn() -> Folder) {
    let folder = job();
    let made = Made::of(&folder);
    let any = changes::any(&folder, &Recalculated::open(&made.workbook));
    let mut runner = TestRunner::new(Config {
        cases,
        failure_persistence: None,
        // Each step is an estimate.
        max_shrink_iters: 30,
        ..Config::default()
    });
    let run = runner.run(&vec(any, 1..8), |edits| {
        follows(&job(), &made.workbook, &edits).map_err(TestCaseError::fail)
    });
    assert!(run.is_ok(), "{}", run.unwrap_err());
}

#[test]
fn changes_of_a_wall_are_followed_to_the_cent() {
    follows_by_chance(12, wall);
}

/// The yard of herons is not here: what its rules charge stands in its workbook as it was
/// reckoned, and says so.
#[test]
fn changes_of_the_demo_jobs_are_followed_to_the_cent() {
    follows_by_chance(3, || example("alder-marsh"));
    follows_by_chance(2, || example("tern-quay"));
}
