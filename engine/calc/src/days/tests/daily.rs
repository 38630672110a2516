use super::*;

const HOT: &str = "weather { air 95F  humidity 15%  wind 20mph  mix 95F }";

/// Every person sets up every day and travels there and back; what is placed adds up to the job.
#[test]
fn what_the_days_take_adds_up_to_the_whole() {
    let takeoff = taken(&format!("{START}  travel 30min  {HOT}"), WALL);
    let plan = plan_of(&takeoff);
    assert_eq!(takeoff.daily.len(), plan.days.len());
    let people: f64 = plan.days.iter().map(|day| f64::from(day.people)).sum();
    let (cloth, set_up) = of_days(&takeoff, "shade-cloth", "set-up");
    let (run, travel) = of_days(&takeoff, "windbreak", "travel");
    assert_eq!((set_up, travel), (people * 0.25, people));
    let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} is not {b}");
    near(cloth, 180.0 * 0.3048 * 0.3048);
    near(run, 20.0 * 0.3048);
    // One roller a day on which is sealed.
    let sealing = plan.days.iter().filter(|day| {
        let mut work = day.work.iter();
        work.any(|work| plan.steps[work.step].does("seal"))
    });
    let (rollers, _) = of_days(&takeoff, "roller", "");
    assert_eq!(rollers, sealing.count() as f64);
    assert!(rollers >= 1.0);
}

fn places_coats(plan: &DayPlan, day: &Day) -> bool {
    let mut work = day.work.iter();
    work.any(|work| !plan.steps[work.step].mixed.is_empty())
}

/// The weather of a day goes before that of the job, and a cold one takes no coats.
#[test]
fn a_cold_day_takes_no_coats() {
    // Placing begins on the Wednesday, with the wait of 48 h over, and goes on for four days.
    let job = format!("{START}  weather {{ air 70F }}");
    let warm = taken(&job, WALL);
    let placed: Vec<Date> = plan_of(&warm)
        .days
        .iter()
        .filter(|day| places_coats(plan_of(&warm), day))
        .map(|day| day.date)
        .collect();
    let cold = placed[2];
    let job = format!("{job}  weather {cold} {{ air 30F }}");
    let (takeoff, said) = taken_by(&[files(RULES)], &text_of(&job, WALL));
    assert!(said.is_empty(), "{said:?}");
    let plan = plan_of(&takeoff);
    let on = |day: &&Day| places_coats(plan, day);
    let placed: Vec<Date> = plan.days.iter().filter(on).map(|day| day.date).collect();
    assert!(!placed.contains(&cold) && !placed.is_empty());
    let shares = plan.days.iter().flat_map(|day| &day.work);
    let done: f64 = shares.map(|work| work.share).sum();
    assert!((done - plan.steps.len() as f64).abs() < 1e-9);
}

/// In a job that is too cold all days are planned as if the work were kept warm, also its waits.
#[test]
fn a_job_too_cold_is_planned_as_if_kept_warm() {
    let job = format!("{START}  weather {{ air 30F }}");
    let (takeoff, said) = taken_by(&[files(RULES)], &text_of(&job, WALL));
    assert!(
        said.len() == 1 && said[0].starts_with("W0312 at `30F`"),
        "{said:?}"
    );
    let plan = plan_of(&takeoff);
    let warm = taken(START, WALL);
    let dates = |plan: &DayPlan| plan.planned.clone();
    assert_eq!(dates(plan), dates(plan_of(&warm)));
    // Where nothing is mixed there is nothing to keep warm.
    let script = RULES
        .replace("need(mix", "if face.area < quantity(0, \"ft2\") { need(mix")
        .replace("quantity(10, \"%\"));", "quantity(10, \"%\")); }");
    let (_, said) = taken_by(&[files(&script)], &text_of(&job, WALL));
    assert_eq!(said, Vec::<String>::new());
}

/// Without a first day there are no dates to show; the days are counted.
#[test]
fn days_without_a_first_one_are_counted() {
    let takeoff = taken("crew 2", WALL);
    let plan = plan_of(&takeoff);
    assert!(!plan.is_dated);
    let labels: Vec<&str> = plan.days.iter().take(2).map(|day| &*day.label).collect();
    assert_eq!(labels, ["day 1", "day 2"]);
}

/// A day of 24 hours ends at its last minute and not at its first.
#[test]
fn a_day_can_be_worked_round_the_clock() {
    let takeoff = taken(
        &format!("{START}  hours 24h"),
        "structure Wall on block { face f rect 200ft x 9ft plain }",
    );
    let plan = plan_of(&takeoff);
    let work: Vec<&Work> = plan.days.iter().flat_map(|day| &day.work).collect();
    assert!(
        work.iter()
            .all(|work| work.from < work.to && work.to <= 1440)
    );
    assert!(work.iter().any(|work| work.to == 1440));
}
