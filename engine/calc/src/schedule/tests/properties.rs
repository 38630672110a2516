//! What holds of every plan, looked at from outside: pieces, dates and bags only.

use super::*;
use jiff::civil::DateTime;
use proptest::prelude::*;
use std::collections::BTreeMap;

fn minutes_of(day: Date) -> u32 {
    300 + 30 * (day.day().unsigned_abs() as u32 % 7)
}

fn cap_of(day: Date, mix: usize) -> u32 {
    2 + (day.day().unsigned_abs() as u32 + mix as u32) % 5
}

fn days() -> Days {
    let rules = CalendarRules {
        off: BTreeSet::from([date(2026, 6, 10)]),
        ..rules()
    };
    Days::lay_out(&rules, 2, minutes_of, |day, mix| Some(cap_of(day, mix))).unwrap()
}

prop_compose! {
    fn activities()(
        work in 0..1500_u64,
        people in (1..3_u32, 0..3_u32),
        bags in prop::option::of((0..2_usize, 0..14_u32)),
        in_one_day in prop::bool::weighted(0.3),
        held in 0..2_u32,
    ) -> Activity {
        let (work, bags) = if in_one_day {
            // The shortest day has 300 minutes, and the least that a day takes of a mix is 2.
            (work % 300, bags.map(|(mix, count)| (mix, count % 3)))
        } else {
            (work, bags)
        };
        Activity {
            label: String::new(),
            work: work.max(bags.map_or(0, |(_, count)| u64::from(count))),
            least_people: people.0,
            most_people: people.0 + people.1,
            bags: bags.map(|(mix, count)| Bags { mix, count }),
            in_one_day,
            holds: vec![held],
        }
    }
}

prop_compose! {
    fn problems()(activities in prop::collection::vec(activities(), 1..8))(
        crew in 2..5_u32,
        others in 1..3_u32,
        arcs in prop::collection::vec(
            (0..activities.len(), 0..activities.len(), 0..4_usize),
            0..activities.len() * 2,
        ),
        activities in Just(activities),
    ) -> Problem {
        let arcs = arcs.into_iter().filter(|(before, after, _)| before < after);
        let waits = arcs.map(|(before, after, kind)| {
            wait(before, after, [0, 45, 16 * 60, 48 * 60][kind])
        });
        Problem { crew, others: vec![others], waits: waits.collect(), activities }
    }
}

fn holds(problem: &Problem, plan: &Plan) {
    for wait in &problem.waits {
        let minutes = i64::from(wait.minutes);
        let ended = minute(plan.placed[wait.before].end);
        assert!(minute(plan.placed[wait.after].start) >= ended + minutes);
    }
    let mut changes: BTreeMap<DateTime, [i64; 2]> = BTreeMap::new();
    let mut bags: BTreeMap<(Date, usize), u32> = BTreeMap::new();
    for (own, placed) in problem.activities.iter().zip(&plan.placed) {
        activity_holds(problem, own, placed);
        for piece in &placed.pieces {
            for (at, sign) in [(piece.from, 1), (piece.until, -1)] {
                let change = changes.entry(at).or_default();
                change[0] += sign * i64::from(piece.people);
                change[1] += sign * i64::from(own.holds[0]);
            }
        }
        for (day, count) in &placed.bags {
            *bags.entry((*day, own.bags.unwrap().mix)).or_default() += count;
        }
    }
    let mut there = [0, 0];
    for change in changes.values() {
        there = [there[0] + change[0], there[1] + change[1]];
        assert!(there[0] <= i64::from(problem.crew) && there[1] <= i64::from(problem.others[0]));
    }
    for ((day, mix), count) in &bags {
        assert!(*count <= cap_of(*day, *mix));
        let told = plan.days.iter().find(|told| told.date == *day).unwrap();
        assert_eq!(told.bags[*mix], *count);
    }
}

fn activity_holds(problem: &Problem, own: &Activity, placed: &Placed) {
    assert_eq!(
        placed.pieces.iter().map(|piece| piece.work).sum::<u64>(),
        own.work
    );
    let placed_bags: u32 = placed.bags.values().sum();
    assert_eq!(placed_bags, own.bags.map_or(0, |bags| bags.count));
    let dates: BTreeSet<Date> = placed.pieces.iter().map(|piece| piece.date).collect();
    assert!(placed.bags.keys().all(|date| dates.contains(date)));
    assert!(!own.in_one_day || dates.len() <= 1);
    for piece in &placed.pieces {
        let most = own.most_people.min(problem.crew);
        assert!(piece.people >= own.least_people && piece.people <= most);
        let minutes = (minute(piece.until) - minute(piece.from)).unsigned_abs();
        let people = u64::from(piece.people);
        assert!(piece.work <= people * minutes && piece.work > people * (minutes - 1));
        // Only within the hours of a working day.
        let begin = piece.date.at(7, 0, 0, 0);
        assert!(piece.date != date(2026, 6, 10));
        assert!(ALL_WEEK[..5].contains(&piece.date.weekday()));
        assert!(piece.from >= begin && piece.from < piece.until);
        let close = minute(begin) + i64::from(minutes_of(piece.date));
        assert!(minute(piece.until) <= close);
    }
    for pair in placed.pieces.windows(2) {
        // Unbroken on a day.
        assert!(pair[0].until == pair[1].from || pair[0].date < pair[1].date);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_keeps_its_limits(problem in problems()) {
        let days = days();
        let search = Search { rounds: 20, ..Search::default() };
        match plan(&problem, &days, search) {
            Ok(plan) => {
                holds(&problem, &plan);
                let path = critical_path(&problem, &days).unwrap();
                prop_assert!(plan.end >= plan.bound && plan.bound >= path.end);
                let work: u64 = problem.activities.iter().map(|own| own.work).sum();
                let available: u64 = plan.days.iter().map(|day| day.available).sum();
                prop_assert_eq!(plan.days.iter().map(|day| day.work).sum::<u64>(), work);
                prop_assert!(work <= available);
                prop_assert!(plan.days.iter().all(|day| day.people <= problem.crew));
                for span in &path.spans {
                    prop_assert!(span.earliest_start <= span.latest_start);
                    prop_assert!(span.latest_finish <= path.end);
                }
                prop_assert_eq!(super::plan(&problem, &days, search), Ok(plan));
            }
            Err(error) => {
                let small = problem.activities.iter().any(|own| own.least_people > problem.crew);
                prop_assert!(small, "{}", error);
            }
        }
    }
}
