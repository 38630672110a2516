//! Why there is no plan.

use jiff::civil::Date;
use std::fmt;

/// Why there is no plan, in words for an estimator.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ScheduleError {
    /// Activities wait for each other: the labels of the whole circle, each waiting for the one
    /// before it, the first for the last.
    Circle(Vec<String>),
    /// A wait names an activity that is not there.
    NoSuchActivity(usize),
    /// Nobody is in the crew.
    NoCrew,
    /// No day of the week is worked, or all are lost, or none has productive time.
    NoWorkingTime,
    /// A day's begin and productive time go past midnight.
    PastMidnight(Date),
    /// An activity asks for no people, or for fewer at most than at least.
    People(String),
    /// An activity needs more people or more of another resource than there is.
    CrewTooSmall {
        /// The activity.
        label: String,
        /// What it needs at least.
        needs: u32,
        /// What there is.
        there: u32,
    },
    /// An activity places bags of a mix that is not counted, or in less than a minute a bag.
    Bags(String),
    /// An activity must be done in one day, and no day has time for it.
    LongerThanADay(String),
    /// An activity must place more bags in one day than any day allows, or no day allows any.
    BagsOverEveryDay(String),
    /// The last day is reached before an activity is done.
    BeyondHorizon(String),
    /// The whole crew, at work on every day to the last, does not do all of it.
    TooMuchWork {
        /// What there is to do, in person-minutes.
        work: u128,
        /// What the crew can do, in person-minutes.
        there: u128,
    },
}

impl fmt::Display for ScheduleError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Circle(labels) => {
                write!(f, "activities wait for each other: ")?;
                for label in labels {
                    write!(f, "`{label}`, then ")?;
                }
                let first = labels.first().map_or("", String::as_str);
                write!(f, "`{first}` again")
            }
            Self::NoSuchActivity(index) => {
                write!(f, "a wait names activity {index}, which is not there")
            }
            Self::NoCrew => write!(f, "the crew has no people"),
            Self::NoWorkingTime => write!(f, "no day has any working time"),
            Self::PastMidnight(date) => write!(f, "the working time of {date} goes past midnight"),
            Self::People(label) => write!(
                f,
                "`{label}` needs at least one person, and no fewer at most than at least"
            ),
            Self::CrewTooSmall {
                label,
                needs,
                there,
            } => {
                write!(f, "`{label}` needs {needs} at once and there are {there}")
            }
            Self::Bags(label) => write!(
                f,
                "`{label}` places bags of no mix of this plan, or in less than a minute a bag"
            ),
            Self::LongerThanADay(label) => write!(
                f,
                "`{label}` must be done in one day, and no day has time for it"
            ),
            Self::BagsOverEveryDay(label) => write!(
                f,
                "`{label}` needs more bags in one day than can be placed on any day"
            ),
            Self::BeyondHorizon(label) => {
                write!(f, "`{label}` is not done by the last day of the calendar")
            }
            Self::TooMuchWork { work, there } => write!(
                f,
                "there is work for {} h of one person, and the whole crew has {} h to the last day of the calendar",
                work.div_ceil(60),
                there / 60
            ),
        }
    }
}

impl std::error::Error for ScheduleError {}
