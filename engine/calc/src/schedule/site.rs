//! Who is free when, and the first place where an activity fits.

use super::calendar::{Day, Days};
use super::model::{Activity, Problem};
use std::collections::BTreeMap;

/// Some minutes with the same number of people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Slice {
    pub from: i64,
    pub until: i64,
    pub people: u32,
    /// Person-minutes; less than people × minutes where the last minute is not needed whole.
    pub work: u64,
}

/// What is done of an activity on one day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Stint {
    pub day: usize,
    pub slices: Vec<Slice>,
    pub bags: u32,
}

/// Where an activity lies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placement {
    pub start: i64,
    pub end: i64,
    pub stints: Vec<Stint>,
}

/// What is free from a minute on, up to the next segment or the end of the day.
#[derive(Debug, Clone)]
struct Segment {
    from: i64,
    free: Free,
}

/// What is free: the people, and the other resources, of which there are none in most problems.
#[derive(Debug, Clone)]
struct Free {
    people: u32,
    others: Vec<u32>,
}

#[derive(Debug, Clone)]
struct Booked {
    segments: Vec<Segment>,
    /// Bags placed, by mix; those of no mix yet where there are none.
    bags: Vec<u32>,
}

/// The crew's time as far as it is given away.
#[derive(Debug)]
pub(super) struct Site<'a> {
    problem: &'a Problem,
    days: &'a Days,
    /// What is free on a day on which nothing is booked.
    crew: Free,
    booked: BTreeMap<usize, Booked>,
}

/// How far an activity has come.
#[derive(Clone, Copy)]
struct Progress {
    work: u64,
    bags: u32,
}

impl<'a> Site<'a> {
    pub fn new(problem: &'a Problem, days: &'a Days) -> Self {
        Self {
            problem,
            days,
            crew: Free {
                people: problem.crew,
                others: problem.others.clone(),
            },
            booked: BTreeMap::new(),
        }
    }

    /// The earliest place of an activity that begins no sooner than a minute; none when it is
    /// not done by the last day.
    pub fn find(&self, activity: &Activity, ready: i64) -> Option<Placement> {
        if activity.work == 0 {
            // An event that takes no time may lie in a night, but not behind the calendar.
            let event = Placement {
                start: ready,
                end: ready,
                stints: Vec::new(),
            };
            return (ready <= self.days.last_minute()).then_some(event);
        }
        let mut done = Progress { work: 0, bags: 0 };
        let mut stints: Vec<Stint> = Vec::new();
        for (number, day) in self
            .days
            .iter()
            .enumerate()
            .skip(self.days.first_open_at(ready))
        {
            let need = self.allowed(activity, number, day, done);
            if need == 0 {
                continue;
            }
            let Some(slices) = self.stint(activity, number, day, ready, need) else {
                continue;
            };
            done.work += slices.iter().map(|slice| slice.work).sum::<u64>();
            let opened = opened(activity, done.work);
            stints.push(Stint {
                day: number,
                slices,
                bags: opened - done.bags,
            });
            done.bags = opened;
            if done.work == activity.work {
                let start = stints.first()?.slices.first()?.from;
                let end = stints.last()?.slices.last()?.until;
                return Some(Placement { start, end, stints });
            }
        }
        None
    }

    /// Person-minutes of an activity that the bags of a day leave to be done on it.
    fn allowed(&self, activity: &Activity, number: usize, day: &Day, done: Progress) -> u64 {
        let left = activity.work - done.work;
        let Some(bags) = activity.bags.filter(|bags| bags.count > 0) else {
            return left;
        };
        let placed = self
            .booked
            .get(&number)
            .and_then(|day| day.bags.get(bags.mix));
        let cap = day.cap(bags.mix);
        // A bag that was opened before could be used up, but a day without bags takes no mix.
        if cap == 0 {
            return 0;
        }
        let room = cap.saturating_sub(placed.copied().unwrap_or(0));
        if activity.in_one_day {
            return if room >= bags.count { left } else { 0 };
        }
        let count = u128::from(bags.count);
        let opened = (u128::from(done.bags) + u128::from(room)).min(count);
        let reached = opened * u128::from(activity.work) / count;
        u64::try_from(reached).map_or(left, |reached| reached.saturating_sub(done.work))
    }

    /// The first unbroken stint on a day: as many people as are free, from where at least the
    /// least number stays free until the need is met or the day ends.
    fn stint(
        &self,
        activity: &Activity,
        number: usize,
        day: &Day,
        ready: i64,
        need: u64,
    ) -> Option<Vec<Slice>> {
        let booked = self.booked.get(&number);
        let segments = booked.map_or(&[][..], |booked| &booked.segments);
        let whole_day = booked.is_none().then_some((day.from, &self.crew));
        let each = segments.iter().map(|segment| (segment.from, &segment.free));
        let mut each = whole_day.into_iter().chain(each).peekable();
        let mut slices: Vec<Slice> = Vec::new();
        let mut left = need;
        while let Some((from, free)) = each.next() {
            let until = each.peek().map_or(day.until, |(next, _)| *next);
            let from = from.max(ready);
            if from >= until {
                continue;
            }
            let people = self.people(activity, free);
            if people == 0 {
                slices.clear();
                left = need;
                continue;
            }
            let rate = u64::from(people);
            let minutes = left.div_ceil(rate).min((until - from).unsigned_abs());
            let work = left.min(rate * minutes);
            let until = from.saturating_add_unsigned(minutes);
            let slice = Slice {
                from,
                until,
                people,
                work,
            };
            match slices.last_mut() {
                Some(last) if last.people == people => {
                    last.until = until;
                    last.work += work;
                }
                Some(_) => slices.push(slice),
                // Most stints are of one slice.
                None => slices = vec![slice],
            }
            left -= work;
            if left == 0 {
                return Some(slices);
            }
        }
        (!activity.in_one_day && !slices.is_empty()).then_some(slices)
    }

    /// How many people a segment has for an activity; 0 when they do not suffice.
    fn people(&self, activity: &Activity, free: &Free) -> u32 {
        let people = free.people.min(self.problem.most(activity));
        let enough = activity
            .holds
            .iter()
            .zip(&free.others)
            .all(|(held, free)| held <= free);
        if enough && people >= activity.least_people {
            people
        } else {
            0
        }
    }

    fn untouched(&self, day: &Day) -> Booked {
        Booked {
            segments: vec![Segment {
                from: day.from,
                free: self.crew.clone(),
            }],
            bags: Vec::new(),
        }
    }

    /// Gives the time of a placement away.
    pub fn book(&mut self, activity: &Activity, placement: &Placement) {
        for stint in &placement.stints {
            let Some(day) = self.days.get(stint.day) else {
                continue;
            };
            let booked = match self.booked.get_mut(&stint.day) {
                Some(booked) => booked,
                None => {
                    let untouched = self.untouched(day);
                    self.booked.entry(stint.day).or_insert(untouched)
                }
            };
            if let Some(bags) = activity.bags.filter(|_| stint.bags > 0) {
                booked.bags.resize(self.days.mixes(), 0);
                if let Some(placed) = booked.bags.get_mut(bags.mix) {
                    *placed += stint.bags;
                }
            }
            for slice in &stint.slices {
                split(&mut booked.segments, slice.from);
                if slice.until < day.until {
                    split(&mut booked.segments, slice.until);
                }
                for segment in &mut booked.segments {
                    if segment.from >= slice.from && segment.from < slice.until {
                        segment.free.people -= slice.people;
                        for (free, held) in segment.free.others.iter_mut().zip(&activity.holds) {
                            *free -= held;
                        }
                    }
                }
            }
        }
    }

    /// The most people at once on each day, summed over the days.
    pub fn crew_days(&self) -> u64 {
        let least_free = |booked: &Booked| {
            let free = booked.segments.iter().map(|segment| segment.free.people);
            free.min().unwrap_or(self.problem.crew)
        };
        let peaks = self.booked.values().map(least_free);
        peaks.map(|free| u64::from(self.problem.crew - free)).sum()
    }
}

/// Bags opened once so much of the work is done.
fn opened(activity: &Activity, done: u64) -> u32 {
    let Some(bags) = activity.bags else {
        return 0;
    };
    let opened = (u128::from(bags.count) * u128::from(done)).div_ceil(u128::from(activity.work));
    u32::try_from(opened).unwrap_or(bags.count)
}

/// Makes a segment begin at a minute.
fn split(segments: &mut Vec<Segment>, at: i64) {
    let place = segments.partition_point(|segment| segment.from < at);
    if segments.get(place).is_none_or(|segment| segment.from != at)
        && let Some(free) = place.checked_sub(1).and_then(|last| segments.get(last))
    {
        let free = free.free.clone();
        segments.insert(place, Segment { from: at, free });
    }
}
