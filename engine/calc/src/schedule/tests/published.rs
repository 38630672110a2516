//! An instance of a published library.

use super::*;

/// Duration, demands of four resources, followers (numbered from 1 as published).
type Row = (u64, [u32; 4], &'static [usize]);

/// Instance j301_1 of PSPLIB (Kolisch & Sprecher, European Journal of Operational Research 96,
/// 1997, 205-216), of the set j30: 30 activities between a source and a sink, four renewable
/// resources. The file gives 38 as its length without resources (`MPM-Time`); the optimum of 43
/// is that of the library's list of optima for j30.
const J301_1: [Row; 32] = [
    (0, [0, 0, 0, 0], &[2, 3, 4]),
    (8, [4, 0, 0, 0], &[6, 11, 15]),
    (4, [10, 0, 0, 0], &[7, 8, 13]),
    (6, [0, 0, 0, 3], &[5, 9, 10]),
    (3, [3, 0, 0, 0], &[20]),
    (8, [0, 0, 0, 8], &[30]),
    (5, [4, 0, 0, 0], &[27]),
    (9, [0, 1, 0, 0], &[12, 19, 27]),
    (2, [6, 0, 0, 0], &[14]),
    (7, [0, 0, 0, 1], &[16, 25]),
    (9, [0, 5, 0, 0], &[20, 26]),
    (2, [0, 7, 0, 0], &[14]),
    (6, [4, 0, 0, 0], &[17, 18]),
    (3, [0, 8, 0, 0], &[17]),
    (9, [3, 0, 0, 0], &[25]),
    (10, [0, 0, 0, 5], &[21, 22]),
    (6, [0, 0, 0, 8], &[22]),
    (5, [0, 0, 0, 7], &[20, 22]),
    (3, [0, 1, 0, 0], &[24, 29]),
    (7, [0, 10, 0, 0], &[23, 25]),
    (2, [0, 0, 0, 6], &[28]),
    (7, [2, 0, 0, 0], &[23]),
    (2, [3, 0, 0, 0], &[24]),
    (3, [0, 9, 0, 0], &[30]),
    (3, [4, 0, 0, 0], &[30]),
    (7, [0, 0, 4, 0], &[31]),
    (8, [0, 0, 0, 7], &[28]),
    (3, [0, 8, 0, 0], &[31]),
    (7, [0, 7, 0, 0], &[32]),
    (2, [0, 7, 0, 0], &[32]),
    (2, [0, 0, 2, 0], &[32]),
    (0, [0, 0, 0, 0], &[]),
];
const CAPACITIES: [u32; 4] = [12, 13, 4, 12];
/// From memory of the list of optima of the library.
const OPTIMUM: i64 = 43;
const WITHOUT_RESOURCES: i64 = 38;

/// A period is a minute, an activity one person's, and there is a person for each.
fn j301_1() -> Problem {
    let activities = J301_1
        .iter()
        .enumerate()
        .map(|(index, (duration, demands, _))| Activity {
            holds: demands.to_vec(),
            ..activity(&format!("{}", index + 1), 1, *duration)
        });
    let waits = J301_1
        .iter()
        .enumerate()
        .flat_map(|(index, (_, _, followers))| {
            followers.iter().map(move |after| wait(index, after - 1, 0))
        });
    Problem {
        crew: 32,
        others: CAPACITIES.to_vec(),
        activities: activities.collect(),
        waits: waits.collect(),
    }
}

#[test]
fn the_optimum_of_a_published_instance_is_found() {
    let (problem, days) = (j301_1(), without_nights());
    let path = critical_path(&problem, &days).unwrap();
    assert_eq!(minute(path.end), WITHOUT_RESOURCES);
    let search = Search {
        rounds: 400,
        aim: Aim::Minutes,
    };
    let plan = plan(&problem, &days, search).unwrap();
    assert_eq!(minute(plan.end), OPTIMUM);
    // No resource is overdrawn in any period.
    for period in 0..OPTIMUM {
        let running = plan
            .placed
            .iter()
            .zip(&J301_1)
            .filter(|(placed, _)| (minute(placed.start)..minute(placed.end)).contains(&period));
        let used = running.fold([0; 4], |mut used, (_, (_, demands, _))| {
            for (used, demand) in used.iter_mut().zip(demands) {
                *used += demand;
            }
            used
        });
        assert!(
            used.iter()
                .zip(CAPACITIES)
                .all(|(used, there)| *used <= there)
        );
    }
}
