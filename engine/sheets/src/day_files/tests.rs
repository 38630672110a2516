use super::*;
use crate::sample::{self, DAYS_PLAN, Sample};
use jiff::civil::date;

fn with<T>(sample: &Sample, made: impl Fn(&Takeoff, &DayPlan) -> T) -> T {
    let takeoff = &sample.estimate.takeoff;
    made(takeoff, takeoff.days.as_ref().unwrap())
}

/// The lines of a calendar that begin so, in order.
fn of<'a>(calendar: &'a str, begin: &str) -> Vec<&'a str> {
    let lines = calendar.lines();
    lines.filter_map(|line| line.strip_prefix(begin)).collect()
}

#[test]
fn a_calendar_of_whole_days() {
    let text = with(&sample::on_days(), calendar).unwrap();
    insta::assert_snapshot!(text.replace("\r\n", "\n"));
}

/// Two days of work with a holiday and a weekend between them are one event over all of them.
#[test]
fn an_event_ends_the_day_after_its_last() {
    let sample = sample::on_days();
    let plan = sample.estimate.takeoff.days.as_ref().unwrap();
    let longest = plan.planned.iter().find(|of| of.first < of.last).unwrap();
    assert_eq!(longest.last, date(2026, 6, 9));
    let text = with(&sample, calendar).unwrap();
    assert!(of(&text, "DTEND;VALUE=DATE:").contains(&"20260610"));
}

/// RFC 5545, 3.8.4.7: the same step is the same event, also when it moved to other days, became
/// more work, or another structure came before it.
#[test]
fn the_same_step_of_a_changed_plan_is_the_same_event() {
    let before = with(&sample::on_days(), calendar).unwrap();
    let changed = DAYS_PLAN
        .replace("2026-06-04", "2026-07-06")
        .replace("22ft 4in", "31ft")
        .replace(
            "structure \"Entry",
            "structure \"Steps\" on block { face riser rect 6ft x 2ft stone }\nstructure \"Entry",
        );
    let after = with(&sample::days_of(&changed), calendar).unwrap();
    let (before, after) = (of(&before, "UID:"), of(&after, "UID:"));
    assert_eq!(before.len(), 5);
    assert!(before.iter().all(|uid| after.contains(uid)), "{after:?}");
    assert_eq!(after.len(), 7);
    let mut once = after.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), after.len());
}

/// A step with the phases of another of its structure is another event, and the first keeps its
/// name.
#[test]
fn equal_steps_have_names_of_their_own() {
    let mut sample = sample::on_days();
    let one = of(&with(&sample, calendar).unwrap(), "UID:")
        .iter()
        .map(|uid| (*uid).to_owned())
        .collect::<Vec<_>>();
    let plan = sample.estimate.takeoff.days.as_mut().unwrap();
    let (step, planned) = (plan.steps.first().unwrap(), plan.planned.first().unwrap());
    let (step, planned) = (step.clone(), planned.clone());
    plan.steps.push(step);
    plan.planned.push(planned);
    let text = with(&sample, calendar).unwrap();
    let two = of(&text, "UID:");
    assert_eq!(two.get(..one.len()).unwrap(), one);
    assert!(!one.iter().any(|uid| uid == two.last().unwrap()));
}

#[test]
fn a_plan_without_dates_has_neither_calendar_nor_chart() {
    let sample = sample::on_undated_days();
    assert_eq!(with(&sample, calendar), None);
    assert_eq!(with(&sample, drawing), None);
    let lines = with(&sample, lines);
    assert!(lines.contains("\r\nday 1,,"), "{lines}");
    assert!(!lines.contains("2001"), "{lines}");
}

/// RFC 4180: quotes are doubled, lines end in CR LF; and no text is taken for a formula.
#[test]
fn lines_of_values() {
    let text = with(&sample::on_days(), lines);
    assert_eq!(text.matches("\r\n").count(), text.matches('\n').count());
    assert!(text.contains(",\"Entry, \"\"planter\"\"\",") && text.contains(",'=Bench,"));
    insta::assert_snapshot!(text.replace("\r\n", "\n"));
}

/// A row names its first phase, and how many are done with it; every bar lies in its day.
#[test]
fn a_chart_of_the_steps() {
    let sample = sample::on_days();
    let text = with(&sample, drawing).unwrap();
    assert!(text.contains(">Place, trowel and stamp +1<"), "{text}");
    assert!(!text.contains("; texture"), "{text}");
    let takeoff = &sample.estimate.takeoff;
    let plan = takeoff.days.as_ref().unwrap();
    let days = plan.days.iter().map(|day| day.date);
    let days: Vec<Date> = days.collect();
    let all: usize = plan.days.iter().map(|day| day.work.len()).sum();
    let bars: Vec<Bar> = (0..plan.steps.len())
        .flat_map(|step| bars(plan, step))
        .collect();
    assert_eq!(bars.len(), all);
    for bar in bars {
        assert!(days.contains(&bar.from.date()) && bar.from < bar.until);
    }
    let off = off(takeoff, date(2026, 6, 4), date(2026, 6, 9));
    assert_eq!(
        off.into_iter().collect::<Vec<_>>(),
        [date(2026, 6, 5), date(2026, 6, 6), date(2026, 6, 7)]
    );
    // The substrate dries for a day by the clock.
    let prepare = |step: &Step| step.phases.iter().any(|(phase, _)| &**phase == "prepare");
    let step = plan.steps.iter().position(prepare).unwrap();
    let wait = wait_after(plan, step).unwrap();
    assert_eq!(wait.from.saturating_add(1.day()), wait.until);
}
