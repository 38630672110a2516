use super::*;

fn refused(problem: &Problem, days: &Days) -> String {
    plan(problem, days, Search::default())
        .unwrap_err()
        .to_string()
}

#[test]
fn a_circle_is_told_whole() {
    let activities = ["scratch", "finish", "colour", "seal", "clean"];
    let activities = activities.map(|label| activity(label, 1, 60));
    let waits = vec![
        wait(0, 1, 0),
        wait(1, 2, 0),
        wait(2, 3, 0),
        wait(3, 1, 0),
        wait(3, 4, 0),
    ];
    let problem = problem(1, activities.to_vec(), waits);
    let circle = ["finish", "colour", "seal"].map(str::to_owned).to_vec();
    let days = office_days(0);
    assert_eq!(
        plan(&problem, &days, Search::default()),
        Err(ScheduleError::Circle(circle))
    );
    assert_eq!(
        refused(&problem, &days),
        "activities wait for each other: `finish`, then `colour`, then `seal`, then `finish` again"
    );
    let own = super::problem(1, vec![activity("a", 1, 1)], vec![wait(0, 0, 0)]);
    assert_eq!(
        plan(&own, &days, Search::default()),
        Err(ScheduleError::Circle(vec!["a".to_owned()]))
    );
}

#[test]
fn what_can_never_be_worked() {
    let days = office_days(1);
    let one = |change: &dyn Fn(&mut Activity)| {
        let mut own = activity("lot", 2, 60);
        change(&mut own);
        problem(2, vec![own], Vec::new())
    };
    let found = [
        refused(&problem(0, vec![activity("lot", 1, 60)], Vec::new()), &days),
        refused(&one(&|own| own.least_people = 3), &days),
        refused(
            &one(&|own| (own.least_people, own.most_people) = (3, 3)),
            &days,
        ),
        refused(&one(&|own| own.least_people = 0), &days),
        refused(&one(&|own| own.holds = vec![1]), &days),
        refused(
            &one(&|own| own.bags = Some(Bags { mix: 1, count: 1 })),
            &days,
        ),
        refused(
            &one(&|own| own.bags = Some(Bags { mix: 0, count: 121 })),
            &days,
        ),
        refused(&one(&|own| (own.work, own.in_one_day) = (961, true)), &days),
        refused(&one(&|own| own.work = u64::MAX), &days),
        refused(
            &problem(1, vec![activity("a", 1, 1)], vec![wait(0, 7, 0)]),
            &days,
        ),
    ];
    insta::assert_snapshot!(found.join("\n"));
}

#[test]
fn bags_that_no_day_takes() {
    for (in_one_day, count, cap) in [(true, 9, 8), (false, 1, 0)] {
        let mut own = activity("lot", 2, 60);
        own.bags = Some(Bags { mix: 0, count });
        own.in_one_day = in_one_day;
        let days = Days::lay_out(&rules(), 1, |_| 480, |_, _| Some(cap)).unwrap();
        let found = plan(&problem(2, vec![own], Vec::new()), &days, Search::default());
        assert_eq!(
            found,
            Err(ScheduleError::BagsOverEveryDay("lot".to_owned()))
        );
    }
}

#[test]
fn days_that_are_none() {
    let none = |rules: &CalendarRules, minutes| Days::lay_out(rules, 0, |_| minutes, |_, _| None);
    let no_week = CalendarRules {
        weekdays: Vec::new(),
        ..rules()
    };
    assert_eq!(none(&no_week, 480), Err(ScheduleError::NoWorkingTime));
    assert_eq!(none(&rules(), 0), Err(ScheduleError::NoWorkingTime));
    assert_eq!(
        none(&rules(), 1021),
        Err(ScheduleError::PastMidnight(START))
    );
    assert!(none(&rules(), 1020).is_ok());
    let last = CalendarRules {
        start: Date::MAX,
        weekdays: ALL_WEEK.to_vec(),
        ..rules()
    };
    assert_eq!(none(&last, 480).unwrap().iter().count(), 1);
}

#[test]
fn what_goes_beyond_five_years() {
    let beyond = |label: &str| Err(ScheduleError::BeyondHorizon(label.to_owned()));
    let days = office_days(0);
    let long = problem(1, vec![activity("a", 1, 480 * 1400)], Vec::new());
    assert_eq!(plan(&long, &days, Search::default()), beyond("a"));
    for minutes in [0, 10] {
        let activities = vec![activity("a", 1, 10), activity("b", 1, minutes)];
        let late = problem(1, activities, vec![wait(0, 1, u32::MAX)]);
        assert_eq!(plan(&late, &days, Search::default()), beyond("b"));
    }
}

#[test]
fn nothing_to_do_is_a_plan() {
    let plan = plan(
        &problem(1, Vec::new(), Vec::new()),
        &office_days(0),
        Search::default(),
    );
    let plan = plan.unwrap();
    assert!(plan.placed.is_empty() && plan.days.is_empty());
}

#[test]
fn more_work_than_the_whole_crew_does_to_the_last_day() {
    let rules = CalendarRules {
        start: date(2026, 5, 11),
        weekdays: [Weekday::Monday].into(),
        off: [].into(),
        begin: 0,
    };
    let days = Days::lay_out(&rules, 0, |_| 60, |_, _| None).unwrap();
    let mondays = days.iter().count() as u128;
    assert_eq!(days.hold(mondays * 120, 2), Ok(()));
    let more = days.hold(mondays * 120 + 1, 2).unwrap_err();
    let said = format!(
        "there is work for {} h of one person, and the whole crew has {} h to the last day of the calendar",
        mondays * 2 + 1,
        mondays * 2
    );
    assert_eq!(more.to_string(), said);
}
