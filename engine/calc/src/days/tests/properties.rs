//! What holds of the days of any job, by the standard pack.

use super::*;
use parge_base::number::whole_up;
use proptest::prelude::*;

/// Minutes from the start to the begin or the end of a step.
#[derive(Clone, Copy)]
struct Lies {
    from: i64,
    to: i64,
}

fn standard(text: &str) -> Takeoff {
    let files = parge_standard_packs::find("vertical-concrete").unwrap();
    let (takeoff, said) = taken_by(&[files], text);
    let fault = said
        .iter()
        .find(|said| said.starts_with('E') || said.starts_with("W0311"));
    assert!(fault.is_none(), "{fault:?}\n{text}");
    takeoff
}

prop_compose! {
    fn structures()(
        sizes in prop::collection::vec((3u32..40, 3u32..12, 1u32..4, any::<bool>(), any::<bool>()), 1..5)
    ) -> String {
        let each = sizes.iter().enumerate().map(|(number, (width, height, count, foam, after))| {
            let on = if *foam { "foam" } else { "block" };
            let after = match number {
                0 => String::new(),
                _ if *after => format!("after S{}\n", number - 1),
                _ => String::new(),
            };
            let finish = if number % 2 == 0 { "plain" } else { "rough" };
            format!(
                "structure S{number} on {on} {{\n{after}\
                 face f rect {width}ft x {height}ft count {count} {finish}\n}}\n"
            )
        });
        each.collect()
    }
}

prop_compose! {
    fn jobs()(
        crew in 1u32..6,
        hours in 5u32..11,
        // The first of June 2026 is a Monday, and work goes on until Friday.
        start in (0u32..4, 0u32..5).prop_map(|(week, day)| 1 + 7 * week + day),
        air in prop::option::of(45u32..100),
        days in prop::collection::btree_map(1u32..29, 20u32..100, 0..8),
        travel in any::<bool>(),
        structures in structures(),
    ) -> String {
        let air = air.map_or(String::new(), |air| format!("weather {{ air {air}F }}"));
        let days: String = days
            .iter()
            .map(|(day, air)| format!(
                "weather 2026-06-{day:02} {{ air {air}F  humidity 30%  wind 12mph  mix 80F }}\n"
            ))
            .collect();
        let travel = if travel { "travel 25min" } else { "" };
        format!(
            "parge 1\njob \"Test\" {{\nrules \"vertical-concrete\"\ncrew {crew}\n\
             start 2026-06-{start:02}\nhours {hours}h\n{air}\n{days}\n{travel}\n}}\n\
             finish plain {{ technique stamp  thickness 1 1/4in  relief 2  colours moss 100%  sealer matte, 2 coats }}\n\
             finish rough {{ technique carve  thickness 2in  relief 2  colours clay 100%  sealer matte, 2 coats }}\n\
             {structures}"
        )
    }
}

/// Where the steps lie, from the work of the days.
fn lie(plan: &DayPlan) -> Vec<Option<Lies>> {
    let mut all: Vec<Option<Lies>> = vec![None; plan.steps.len()];
    let Some(first) = plan.days.first() else {
        return all;
    };
    for day in &plan.days {
        let days = i64::from(day.date.since(first.date).unwrap().get_days());
        for work in &day.work {
            let [from, to] = [work.from, work.to].map(|minute| days * 1440 + i64::from(minute));
            let lies = all[work.step].get_or_insert(Lies { from, to });
            *lies = Lies {
                from: lies.from.min(from),
                to: lies.to.max(to),
            };
        }
    }
    all
}

fn waits_hold(plan: &DayPlan) {
    let lies = lie(plan);
    for link in &plan.links {
        let [Some(before), Some(after)] = [lies[link.before], lies[link.after]] else {
            panic!("a step without work");
        };
        let wait = link.wait.value / 60.0;
        assert!((after.from - before.to) as f64 >= wait - 1e-6);
    }
}

fn crew_holds(plan: &DayPlan, day: &Day) {
    let productive = plan.productive.value / 60.0;
    let mut people = vec![0; 1441];
    let mut person_minutes = 0.0;
    for work in &day.work {
        assert!(f64::from(work.to) <= productive && work.from < work.to);
        for minute in work.from..work.to {
            people[minute as usize] += work.people;
        }
        person_minutes += plan.steps[work.step].work().unwrap().value / 60.0 * work.share;
    }
    let most = people.into_iter().max().unwrap();
    assert!(most == day.people && most <= plan.crew);
    assert!(person_minutes <= productive * f64::from(plan.crew) + 1e-6);
}

fn all_is_done(plan: &DayPlan) {
    let mut shares = vec![0.0; plan.steps.len()];
    for work in plan.days.iter().flat_map(|day| &day.work) {
        shares[work.step] += work.share;
    }
    assert!(shares.iter().all(|share| (share - 1.0_f64).abs() < 1e-9));
}

/// What a rule was given with a question.
fn given(asked: &Asked, name: &str) -> f64 {
    match asked
        .subject
        .values
        .iter()
        .find(|(known, _)| &**known == name)
    {
        Some((_, parge_rules::Value::Quantity(quantity, _))) => quantity.value,
        other => panic!("{name}: {other:?}"),
    }
}

/// No plan places more bags than the crew can place within the working time.
fn cards_hold(takeoff: &Takeoff, plan: &DayPlan) {
    for card in &plan.cards {
        let day = &plan.days[card.day];
        let asked = &plan.asked[card.asked];
        let placing = given(asked, "placing");
        let there = f64::from(day.people) * plan.productive.value;
        assert!(card.placed * placing <= there + 1e-6);
        let in_time = f64::from(card.people) * given(asked, "working_time");
        assert!(card.batch * placing <= in_time * (1.0 + 1e-9));
        assert!(card.people <= day.people && card.batches * card.batch >= card.placed - 1e-6);
        assert!(card.batch == card.batch.floor() || card.batch < 1.0);
    }
    for mix in ["finish-mix", "scratch-mix", "backer-mix"] {
        let of_mix = |taken: &&crate::takeoff::Need| &*taken.item == mix;
        let needs = takeoff
            .all_taken()
            .flat_map(|taken| &taken.needs)
            .filter(of_mix);
        let (need, waste) = needs.fold((0.0, 0.0), |(need, waste), line| {
            (need + line.amount.value, waste + line.waste.value)
        });
        let cards = plan.cards.iter().filter(|card| &*card.mix == mix);
        let bags: f64 = cards.map(|card| card.bags).sum();
        assert_eq!(bags, whole_up(need + waste), "{mix}");
    }
}

/// Coats wait for a day that is warmer than the limit of the pack, 40 F, where the job is.
fn no_coat_is_cold(takeoff: &Takeoff, plan: &DayPlan) {
    for day in &plan.days {
        let air = day
            .weather
            .air
            .map(|air| takeoff.measured.job.value(air).value);
        let cold = air.is_some_and(|air| air <= 4.0 / 9.0 * 10.0 + 273.15);
        let coats = day
            .work
            .iter()
            .any(|work| !plan.steps[work.step].mixed.is_empty());
        assert!(!(cold && coats), "{}", day.date);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_days_of_any_job_keep_to_crew_waits_and_weather(text in jobs()) {
        let takeoff = standard(&text);
        let plan = takeoff.days.as_ref().expect("a day plan");
        waits_hold(plan);
        plan.days.iter().for_each(|day| crew_holds(plan, day));
        all_is_done(plan);
        cards_hold(&takeoff, plan);
        no_coat_is_cold(&takeoff, plan);
        prop_assert_eq!(takeoff.daily.len(), plan.days.len());
    }
}
