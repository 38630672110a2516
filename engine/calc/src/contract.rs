//! What a rule pack and the program expect of each other: the hooks, what they are given, and
//! the tables that the program itself reads. A pack author's page of this is the pack's README.

use parge_rules::{Hook, Pack, WASTE_HOOK};

/// The packs that a job names.
#[derive(Debug, Clone, Copy)]
pub struct Packs<'p> {
    /// What faces need.
    pub rules: &'p Pack,
    /// How openings are deducted; none for the program's own rule `net`.
    pub measuring: Option<&'p Pack>,
}

impl<'p> Packs<'p> {
    /// A rule pack, with the program's own measuring rule.
    pub fn of(rules: &'p Pack) -> Self {
        Self {
            rules,
            measuring: None,
        }
    }
}

/// Hooks that are called once for every class of face, in this order.
pub const FACE_HOOKS: &[&str] = &[
    "prepare",
    "coats",
    "finish",
    "materials",
    "labour",
    "cautions",
];

/// The hooks of a measuring rule: one for every class of opening, one for every class of face.
pub const OPENING_HOOK: &str = "opening";
/// See [`OPENING_HOOK`]; a measuring rule may leave it out.
pub const GROSS_HOOK: &str = "gross";

/// The hook that measures the shapes that a pack adds.
pub const SHAPE_HOOK: &str = "shapes";

/// Hooks that are called once for every class of linear work.
pub const EDGE_HOOKS: &[&str] = &["edges"];

/// The hooks that are called once for the job, after all faces, in this order: what is counted
/// once, and the tools and equipment to take.
pub const JOB_HOOKS: &[&str] = &["whole_job", "kit"];

/// The hook that says how long a crew works a day.
pub const WORKDAY_HOOK: &str = "workday";
/// The hook that says what a weather allows: how long a batch can be worked, and whether coats can
/// be placed.
pub const WEATHER_HOOK: &str = "weather";
/// The hook that says how large a batch may be.
pub const BATCH_HOOK: &str = "batches";
/// The hook that is called for every day of work, for what the day takes by itself.
pub const DAY_HOOK: &str = "day";

/// The hook that may add to a price: a minimum charge, an hour's travel, a surcharge.
pub const PRICE_HOOK: &str = "price";

/// All hooks.
pub const HOOKS: &[Hook] = &[
    Hook {
        name: PRICE_HOOK,
        parameters: &["bid"],
    },
    Hook {
        name: OPENING_HOOK,
        parameters: &["opening"],
    },
    Hook {
        name: GROSS_HOOK,
        parameters: &["face"],
    },
    Hook {
        name: SHAPE_HOOK,
        parameters: &["shape"],
    },
    Hook {
        name: "prepare",
        parameters: &["face"],
    },
    Hook {
        name: "coats",
        parameters: &["face"],
    },
    Hook {
        name: "finish",
        parameters: &["face"],
    },
    Hook {
        name: "materials",
        parameters: &["face"],
    },
    // Asked for every need of a face whose line states no waste; it hands a share back.
    Hook {
        name: WASTE_HOOK,
        parameters: &["face", "item"],
    },
    Hook {
        name: "labour",
        parameters: &["face"],
    },
    Hook {
        name: "cautions",
        parameters: &["face"],
    },
    Hook {
        name: "edges",
        parameters: &["edge"],
    },
    Hook {
        name: "whole_job",
        parameters: &["job"],
    },
    Hook {
        name: "kit",
        parameters: &["job"],
    },
    Hook {
        name: WORKDAY_HOOK,
        parameters: &["site"],
    },
    Hook {
        name: WEATHER_HOOK,
        parameters: &["weather"],
    },
    Hook {
        name: BATCH_HOOK,
        parameters: &["batch"],
    },
    Hook {
        name: DAY_HOOK,
        parameters: &["day"],
    },
];

/// Table of the substrates: `substrate,property`, with property `description`.
pub const SUBSTRATES: &str = "substrates";
/// Table of the techniques: `technique,property`, with property `description`.
pub const TECHNIQUES: &str = "techniques";
/// Table of the materials: `item,property`, with properties `description`, and `unit` and
/// `unit_metric` as texts: the units in which the need is shown.
pub const MATERIALS: &str = "materials";
/// Table of the phases of labour: `phase,property`, with properties `description` and `order`, and
/// `with` where it is done on the same day as another phase.
pub const PHASES: &str = "phases";
/// Table of the mixes: `mix,property`. Property `phase` names the phase in which batches of it are
/// placed. A mix is an item that is needed, or is made on the site of several: then a rule of a
/// face says with `give` how much of it is placed, with waste.
pub const MIXES: &str = "mixes";
/// Table of coverages: `item,on`, how far a unit of the item goes. Past jobs are put down to its rows
/// before wastes, see [`crate::learn`].
pub const COVERAGE: &str = "coverage";
/// Table of how far things stray, from which the range of a total is reckoned: `spread,of`. With
/// `spread` `factor`, the row of another table that `of` names; with `job` and `line`, all lines of
/// `materials` or `hours`; with `together`, a row that strays as another one does. See
/// [`crate::learn::spread`].
pub const SPREAD: &str = "spread";
/// Table of the waits between phases of a structure: `before,after,property`, with property
/// `least`, a time by the clock, and `cold` with the word `lengthens` where cold makes it longer.
pub const WAITS: &str = "waits";
/// Table of what lengthens a wait in the cold (ASTM C1074): `activation`, the activation energy
/// over the gas constant, and `reference`, the temperature that waits are stated for.
pub const MATURITY: &str = "maturity";
/// Table of the cautions: `caution,property`, with properties `text`, `audience` (`crew`, `client`
/// or `both`), and for a text that holds a figure as `{}` its `unit` and `unit_metric`.
pub const CAUTIONS: &str = "cautions";
/// Table of the tools and equipment: `tool,property`, with properties `description` and `from`
/// (`own` or `hire`).
pub const KIT: &str = "kit";
/// Table of the kinds of linear work: `edge,property`, with property `description`.
pub const EDGES: &str = "edges";
/// Table of sheets and rolls: `item,property`, with their sizes and laps, which the program lays
/// out on every face; see [`crate::layout`].
pub const SHEETS: &str = "sheets";
/// Table of the conditions of a site: `condition,word,property`, with property `description`.
pub const SITE: &str = "site";
/// Table of the shapes that a pack adds: `shape,size`, each with its words, in the order in which a
/// plan gives the sizes.
pub const SHAPES: &str = "shapes";
/// How the words of a size in that table begin which is no length: it counts something.
pub const COUNTED_SIZE: &str = "number of";
/// Table of contingencies by the class of the estimate: `class`, each with a share. It holds where a
/// plan states a class and no contingency; a pack may leave it out.
pub const CONTINGENCY: &str = "contingency";
