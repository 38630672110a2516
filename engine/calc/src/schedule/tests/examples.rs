use super::*;
use jiff::civil::DateTime;

fn pieces(placed: &Placed) -> Vec<(DateTime, DateTime, u32, u64)> {
    let read = |piece: &Piece| (piece.from, piece.until, piece.people, piece.work);
    placed.pieces.iter().map(read).collect()
}

/// Two people for 10 hours each: Friday full, two hours on Monday; then a third of the next.
#[test]
fn work_goes_on_the_next_working_day() {
    let problem = problem(2, vec![activity("scratch", 2, 600)], Vec::new());
    let plan = plan(&problem, &office_days(0), Search::default()).unwrap();
    let monday = date(2026, 6, 8);
    assert_eq!(
        pieces(&plan.placed[0]),
        [
            (START.at(7, 0, 0, 0), START.at(15, 0, 0, 0), 2, 960),
            (monday.at(7, 0, 0, 0), monday.at(9, 0, 0, 0), 2, 240),
        ]
    );
    assert!(plan.placed[0].critical);
    assert_eq!(plan.end, plan.bound);
}

/// Who becomes free steps over: of three people two are on the fixed one for an hour.
#[test]
fn as_many_people_as_are_free() {
    let mut open = activity("open", 1, 400);
    open.most_people = 3;
    let activities = vec![activity("fixed", 2, 60), open, activity("last", 1, 30)];
    let problem = problem(3, activities, vec![wait(0, 2, 0), wait(1, 2, 0)]);
    let plan = plan(&problem, &office_days(0), Search::default()).unwrap();
    // 60 person-minutes by one, the remaining 340 by three: 113 1/3 minutes.
    assert_eq!(
        pieces(&plan.placed[1]),
        [
            (START.at(7, 0, 0, 0), START.at(8, 0, 0, 0), 1, 60),
            (START.at(8, 0, 0, 0), START.at(9, 54, 0, 0), 3, 340),
        ]
    );
}

/// 20 bags at 8 on a day and 5 on the second, hotter one: 8, 5, 7. A bag takes 30 person-minutes.
#[test]
fn bags_of_a_day_are_limited_by_the_day() {
    let mut place = activity("place", 2, 300);
    place.bags = Some(Bags { mix: 0, count: 20 });
    let hot = date(2026, 6, 8);
    let cap = |day, _| Some(if day == hot { 5 } else { 8 });
    let days = Days::lay_out(&rules(), 1, |_| 480, cap).unwrap();
    let plan = plan(
        &problem(2, vec![place], Vec::new()),
        &days,
        Search::default(),
    )
    .unwrap();
    let bags: Vec<_> = plan
        .days
        .iter()
        .map(|day| (day.date, day.bags[0]))
        .collect();
    assert_eq!(bags, [(START, 8), (hot, 5), (date(2026, 6, 9), 7)]);
    assert_eq!(pieces(&plan.placed[0])[0].1, START.at(9, 0, 0, 0));
    // The last 7 bags are 210 person-minutes of two; alone on the site it takes as long.
    assert_eq!(plan.end, date(2026, 6, 9).at(8, 45, 0, 0));
    assert_eq!(plan.bound, plan.end);
    let work: Vec<_> = plan
        .days
        .iter()
        .map(|day| (day.work, day.available))
        .collect();
    assert_eq!(work, [(240, 960), (150, 960), (210, 960)]);
}

/// What must be done in one day waits for a day that has time for it.
#[test]
fn a_lot_of_one_day_is_not_begun_late() {
    let mut lot = activity("lot", 2, 400);
    lot.in_one_day = true;
    let activities = vec![activity("lath", 2, 100), lot];
    let days = office_days(0);
    let plan = plan(
        &problem(2, activities, vec![wait(0, 1, 0)]),
        &days,
        Search::default(),
    );
    let plan = plan.unwrap();
    assert_eq!(plan.placed[1].start, date(2026, 6, 8).at(7, 0, 0, 0));
    // Lath may begin 380 minutes later: it still ends on Friday.
    assert_eq!(
        (plan.placed[0].float, plan.placed[0].critical),
        (380, false)
    );
    assert_eq!((plan.placed[1].float, plan.placed[1].critical), (0, true));
}

#[test]
fn holidays_and_lost_days_are_not_worked() {
    let rules = CalendarRules {
        off: BTreeSet::from([START, date(2026, 6, 9)]),
        ..rules()
    };
    let days = Days::lay_out(&rules, 0, |_| 480, |_, _| None).unwrap();
    let plan = plan(
        &problem(1, vec![activity("a", 1, 960)], Vec::new()),
        &days,
        Search::default(),
    );
    let worked: Vec<_> = plan.unwrap().days.iter().map(|day| day.date).collect();
    assert_eq!(worked, [date(2026, 6, 8), date(2026, 6, 10)]);
}

/// A forward-backward pass or another list saves a day that the rule alone gives away.
#[test]
fn improvement_never_makes_it_worse() {
    let problem = optimum::instance(3, 14);
    let days = without_nights();
    let search = |rounds| Search {
        rounds,
        aim: Aim::Minutes,
    };
    let few = plan(&problem, &days, search(0)).unwrap();
    let many = plan(&problem, &days, search(300)).unwrap();
    assert!(many.end <= few.end && many.bound == few.bound);
    assert_eq!(many, plan(&problem, &days, search(300)).unwrap());
}

#[test]
fn hours_round_up_to_minutes() {
    assert_eq!(
        [0.0, 0.1, 1.0 / 60.0, 1.001, 7.7].map(minutes_up),
        [0, 6, 1, 61, 462]
    );
    assert_eq!([-1.0, f64::NAN].map(minutes_up), [0, 0]);
}

/// A bag that was opened on a warm day is not used up on one that takes none.
#[test]
fn nothing_is_placed_on_a_day_without_bags() {
    let mut coat = activity("coat", 1, 600);
    coat.bags = Some(Bags { mix: 0, count: 3 });
    let cold = date(2026, 6, 8);
    let days = Days::lay_out(&rules(), 1, |_| 480, |day, _| (day == cold).then_some(0)).unwrap();
    let plan = plan(
        &problem(1, vec![coat], Vec::new()),
        &days,
        Search::default(),
    );
    let dates: Vec<Date> = plan.unwrap().days.iter().map(|day| day.date).collect();
    assert_eq!(dates, [START, date(2026, 6, 9)]);
}

/// Chains side by side for one crew: who begins later by the float begins before the end, and
/// something is critical.
#[test]
fn the_float_is_no_more_than_there_is() {
    let chains = 30;
    let mut activities = Vec::new();
    let mut waits = Vec::new();
    for chain in 0..chains {
        let minutes = 20 + 7 * (chain as u64 % 5);
        activities.push(activity("first", 1, minutes));
        activities.push(activity("second", 1, 30));
        waits.push(wait(2 * chain, 2 * chain + 1, 600));
    }
    let problem = problem(2, activities, waits);
    let search = Search {
        rounds: 0,
        ..Search::default()
    };
    let first = plan(&problem, &office_days(0), search).unwrap();
    assert!(first.placed.iter().any(|placed| placed.critical));
    assert!(first.placed.iter().any(|placed| placed.float > 0));
    for placed in &first.placed {
        assert_eq!(placed.critical, placed.float == 0);
        let after = minute(placed.start) + i64::try_from(placed.float).unwrap();
        assert!(after < minute(first.end));
    }
}

/// One person: an hour, five days of waiting, ten minutes. What is done in between for an hour has
/// all the rest of the wait, and the end hangs on the other two.
#[test]
fn the_end_hangs_on_what_it_waits_for() {
    let activities = vec![
        activity("scratch", 1, 60),
        activity("seal", 1, 10),
        activity("clean", 1, 60),
    ];
    let problem = problem(1, activities, vec![wait(0, 1, 5 * 24 * 60)]);
    let days = without_nights();
    let network = Network::of(&problem).unwrap();
    let schedule = serial::serial(&problem, &network, &days, &[0, 2, 1]).unwrap();
    // Ends at 5 days, 1 h and 10 min; the cleaning after 2 h.
    assert_eq!(
        chain::slack(&network, &days, &schedule),
        [0, 0, 5 * 24 * 60 + 70 - 120]
    );
    // Without the wait one person is busy to the end, and all hangs together.
    let busy = Problem {
        waits: vec![wait(0, 1, 0)],
        ..problem
    };
    let network = Network::of(&busy).unwrap();
    let schedule = serial::serial(&busy, &network, &days, &[0, 2, 1]).unwrap();
    assert_eq!(chain::slack(&network, &days, &schedule), [0, 0, 0]);
}
