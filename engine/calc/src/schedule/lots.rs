//! Work cut into lots that each fit a day.

/// A part of the work of an activity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lot {
    /// Person-minutes.
    pub work: u64,
    /// Bags.
    pub bags: u32,
}

/// Cuts work and bags into the fewest lots of nearly the same size of which none has more work
/// (person-minutes) or bags than a day takes. Work and bags are cut in the same proportion, to a
/// minute and a bag; the larger lots come first. None when a day takes nothing of what there is,
/// or when a lot would have less than a minute for each of its bags.
pub fn lots(whole: Lot, day: Lot) -> Option<Vec<Lot>> {
    let by_work = parts(whole.work, day.work)?;
    let by_bags = parts(u64::from(whole.bags), u64::from(day.bags))?;
    let count = by_work.max(by_bags).max(1);
    let share = |total: u64, number: u64| total / count + u64::from(number < total % count);
    let lot = |number| Lot {
        work: share(whole.work, number),
        // A share of a u32 is one.
        bags: u32::try_from(share(u64::from(whole.bags), number)).unwrap_or(u32::MAX),
    };
    // Sizes fall, so that this also bounds the number of lots before they are made.
    if count > 1 && count > whole.work {
        return None;
    }
    let lots: Vec<Lot> = (0..count).map(lot).collect();
    let possible = |lot: &Lot| lot.work >= u64::from(lot.bags);
    lots.iter().all(possible).then_some(lots)
}

fn parts(total: u64, most: u64) -> Option<u64> {
    match (total, most) {
        (0, _) => Some(0),
        (_, 0) => None,
        (total, most) => Some(total.div_ceil(most)),
    }
}
