//! Statements, and the members of blocks.

use super::Home::{Alternate, Bid, Body, Change, Face, Finish, Head, Job, Plan, Weather};
use super::{Explained, row};

/// Statements at the top, and what stands in their heads.
pub(super) const PLAN: &[Explained] = &[
    row(
        Plan,
        "parge",
        "the version of the language; the first line of a plan",
        "parge 1",
    ),
    row(
        Plan,
        "job",
        "for whom, by which rules and prices, on what terms",
        "job \"Entry court\" { crew 3 }",
    ),
    row(
        Plan,
        "let",
        "a value with a name; the order of the lines does not matter",
        "let height = 2ft 8in",
    ),
    row(
        Plan,
        "finish",
        "how a surface is made",
        "finish bark { technique carve }",
    ),
    row(
        Plan,
        "structure",
        "what stands there, with its faces",
        "structure \"Entry planter\" on block { … }",
    ),
    row(
        Plan,
        "template",
        "a structure to be made several times, with names for what differs",
        "template bay(width, high) on block { face front rect width x high bark }",
    ),
    row(
        Plan,
        "include",
        "the statements of another file, as if they stood here",
        "include \"finishes.parge\"",
    ),
    row(
        Plan,
        "alternate",
        "what the client may choose instead, priced as a difference",
        "alternate \"Carve instead\" { structure \"Entry planter\" { finish bark } }",
    ),
    row(
        Plan,
        "allowance",
        "a sum set aside for what cannot be measured yet",
        "allowance \"Crane day\" 850 USD",
    ),
    row(
        Plan,
        "exclude",
        "what the price does not cover",
        "exclude \"Electrical and lighting\"",
    ),
    row(
        Plan,
        "note",
        "something the client should know",
        "note \"Owner supplies water on site\"",
    ),
    row(
        Plan,
        "terms",
        "a condition of the bid, such as when it is paid",
        "terms \"Half on signing, half on completion\"",
    ),
    row(
        Head,
        "on",
        "what the structure is built of",
        "structure \"Entry planter\" on block { … }",
    ),
    row(
        Head,
        "from",
        "the template that the structure is made from, with its values",
        "structure \"North\" from bay(12ft, 8ft)",
    ),
];

/// Settings of the job.
pub(super) const JOB: &[Explained] = &[
    row(
        Job,
        "client",
        "for whom the work is",
        "client \"Heron Point Trust\"",
    ),
    row(Job, "site", "where the work is", "site \"Trailhead court\""),
    row(
        Job,
        "date",
        "the day of the estimate, as year, month and day",
        "date 2026-04-20",
    ),
    row(
        Job,
        "valid_until",
        "the last day on which the bid can be accepted, as year, month and day",
        "valid_until 2026-08-01",
    ),
    row(
        Job,
        "valid",
        "for how many days from its date the bid can be accepted",
        "valid 60 days",
    ),
    row(
        Job,
        "units",
        "the units in which results are shown; any unit may be written",
        "units us",
    ),
    row(Job, "measure", "how openings are deducted", "measure net"),
    row(
        Job,
        "rules",
        "the rule pack, by name or path",
        "rules \"vertical-concrete\"",
    ),
    row(
        Job,
        "prices",
        "the price book, a path from the plan's folder",
        "prices \"prices.csv\"",
    ),
    row(
        Job,
        "crew",
        "how many work on site, or how many of which wage class",
        "crew { lead 1  finisher 2 }",
    ),
    row(
        Job,
        "weather",
        "the weather to be expected, of every day or of one, for rules that ask for it",
        "weather { air 84F  humidity 40%  wind 9mph  mix 80F }",
    ),
    row(
        Job,
        "bid",
        "what is added to the cost",
        "bid { overhead 12%  profit markup 25% }",
    ),
    row(
        Job,
        "conditions",
        "conditions of the whole site, in words of the rule pack",
        "conditions { access tight }",
    ),
    row(
        Job,
        "start",
        "the first day on site, as year, month and day",
        "start 2026-06-01",
    ),
    row(
        Job,
        "workdays",
        "the weekdays on which work goes on; monday to friday where nothing is said",
        "workdays mon tue wed thu fri",
    ),
    row(Job, "hours", "hours on site a day", "hours 8h"),
    row(
        Job,
        "holidays",
        "days without work",
        "holidays 2026-07-03, 2026-07-06",
    ),
    row(
        Job,
        "weather_days",
        "days of work that are lost to weather",
        "weather_days 2026-06-10, 2026-06-11",
    ),
    row(
        Job,
        "travel",
        "the way to the site, once each way on each day of work",
        "travel 45min",
    ),
    row(
        Job,
        "forecast",
        "the weather of days, from a file; a path from the plan's folder",
        "forecast \"weather.csv\"",
    ),
    row(Weather, "air", "temperature of the air", "air 84F"),
    row(Weather, "humidity", "humidity of the air", "humidity 40%"),
    row(Weather, "wind", "speed of the wind", "wind 9mph"),
    row(Weather, "mix", "temperature of the mix", "mix 80F"),
    row(
        Bid,
        "burden",
        "taxes and insurance on wages, as a share of them",
        "burden 32%",
    ),
    row(
        Bid,
        "overhead",
        "cost of the company, as a share of the direct cost",
        "overhead 12%",
    ),
    row(
        Bid,
        "profit",
        "profit as a `markup` on the cost or a `margin` of the price",
        "profit markup 25%",
    ),
    row(
        Bid,
        "tax",
        "sales tax, on materials or on the total",
        "tax 7.25% on materials",
    ),
    row(
        Bid,
        "contingency",
        "for what is not foreseen, as a share of the cost with overhead",
        "contingency 8%",
    ),
    row(
        Bid,
        "class",
        "how well the job is known, from 5, a first idea, to 1, all drawn",
        "class 3",
    ),
    row(
        Bid,
        "minimum",
        "the least that the price before tax may be",
        "minimum 2150 USD",
    ),
    row(
        Bid,
        "round",
        "rounds the price before tax to a multiple of an amount, or `up` to it",
        "round up to 10 USD",
    ),
];

/// Settings of a finish.
pub(super) const FINISH: &[Explained] = &[
    row(
        Finish,
        "technique",
        "how the surface is worked; the rule pack says which there are",
        "technique stamp",
    ),
    row(
        Finish,
        "thickness",
        "thickness of the finish coat",
        "thickness 3/4in",
    ),
    row(
        Finish,
        "relief",
        "surface over flat area; 1 where nothing is said",
        "relief 1.15",
    ),
    row(
        Finish,
        "colours",
        "shares of the area, which add to 100%",
        "colours granite 60%, moss 40%",
    ),
    row(
        Finish,
        "colors",
        "shares of the area, which add to 100%",
        "colors granite 60%, moss 40%",
    ),
    row(
        Finish,
        "sealer",
        "sheen of the sealer, and how many coats of it",
        "sealer matte, 2 coats",
    ),
];

/// Members of structures, faces and alternates.
pub(super) const STRUCTURE: &[Explained] = &[
    row(
        Body,
        "face",
        "a surface to be coated, with its shape",
        "face street rect 22ft x 4ft drystone",
    ),
    row(
        Body,
        "finish",
        "the finish of all faces that name none",
        "finish drystone",
    ),
    row(
        Body,
        "height",
        "the height of all faces whose shape leaves it out",
        "height 8ft",
    ),
    row(
        Body,
        "at",
        "height above ground of the top of the work, for all faces",
        "at 9ft",
    ),
    row(
        Body,
        "edge",
        "linear work that belongs to no single face",
        "edge cap 22ft count 2",
    ),
    row(
        Body,
        "conditions",
        "conditions of this structure, in words of the rule pack",
        "conditions { access tight }",
    ),
    row(
        Body,
        "after",
        "the structures that must be done before work on this one begins",
        "after \"Entry planter\"",
    ),
    row(
        Face,
        "opening",
        "a door, window or niche in the face",
        "opening vent rect 12in x 8in reveal 4in",
    ),
    row(
        Face,
        "edge",
        "linear work on the face; on each where there are several",
        "edge cap 22ft count 2",
    ),
    row(
        Alternate,
        "structure",
        "a structure that is finished another way",
        "structure \"Entry planter\" { finish bark }",
    ),
    row(
        Alternate,
        "omit",
        "a structure that is left out",
        "omit \"Grotto\"",
    ),
    row(
        Change,
        "finish",
        "the finish that all its faces get instead",
        "finish bark",
    ),
];
