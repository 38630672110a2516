//! Published values that stand nowhere in the program, each with the reason: nothing is checked
//! that nothing uses.

use super::rows::{DERIVED, MEMORY, PRIMARY, REPRODUCTION, WEAK};

/// A published value, or a part of one, that the program does not use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unused {
    /// Its number in the list of checks.
    pub id: &'static str,
    /// What is published.
    pub what: &'static str,
    /// Who published it.
    pub source: &'static str,
    /// How sure the value is.
    pub how_sure: &'static str,
    /// Why the program does not use it.
    pub why: &'static str,
}

/// All of them, in the order of their numbers.
pub fn unused() -> &'static [Unused] {
    UNUSED
}

const fn not_used(
    id: &'static str,
    what: &'static str,
    (source, how_sure): (&'static str, &'static str),
    why: &'static str,
) -> Unused {
    Unused {
        id,
        what,
        source,
        how_sure,
        why,
    }
}

const UNUSED: &[Unused] = &[
    not_used(
        "V7",
        "rule 38 not for large jobs: absolute volume instead",
        ("NAVEDTRA 14043; NAVEDTRA 14045 ch. 4", PRIMARY),
        "no pack orders by rule 38; absolute volumes are those of Y1",
    ),
    not_used(
        "V11",
        "sand of 0.7125 m3 for 1 m3 of 1:1",
        ("CPWD DAR 2019 vol. 1, SH 3 item 3.1", REPRODUCTION),
        "no pack mixes 1:1; the checks take their dry parts for V12 and V13 from it",
    ),
    not_used(
        "V29",
        "1 ft3 of damp loose sand holds 80 lb of dry sand or more",
        ("UFGS 09210 (2.8.1)", PRIMARY),
        "sand is counted and priced by its loose volume, never by weight",
    ),
    not_used(
        "V30",
        "aggregate part of 100 lb; finish of 300 lb of sand to 94 lb of cement",
        ("NAVEDTRA 14044 ch. 7", PRIMARY),
        "portland-plaster proportions sand by volume, within the limits of V31",
    ),
    not_used(
        "V32",
        "waste of 5 % over 200 yd3",
        ("Army subcourse EN5466; NAVEDTRA 14071 p. 17-10", PRIMARY),
        "no wall job comes near 200 yd3; the packs take the 10 % below it",
    ),
    not_used(
        "L2",
        "delay factor read off a graph",
        ("NAVEDTRA 14045 fig. 2-14", PRIMARY),
        "the graph is not in the program; a delay is an input of the formula of man-days",
    ),
    not_used(
        "L5",
        "water carrier 0.92 d, scaffold and sundries 12.61 units",
        ("CPWD DAR 2019 13.1 / 13.4", REPRODUCTION),
        "portland-plaster has no water carrier; the price of P1 closes with them",
    ),
    not_used(
        "L8",
        "water carrier 1.05 d",
        ("CPWD DAR 2019 13.11 / 13.12", REPRODUCTION),
        "portland-plaster has no water carrier",
    ),
    not_used(
        "L9",
        "coolie 0.27 d, sundries 8.06 units",
        ("CPWD DAR 2019 13.7-13.10, 13.18", REPRODUCTION),
        "a floating coat brings no plaster of its own to the wall: its tender is left out",
    ),
    not_used(
        "L11",
        "mason 0.27, 0.30, 0.65 d for 10 m of band",
        ("CPWD DAR 2019 13.28", REPRODUCTION),
        "no pack has mortar bands",
    ),
    not_used(
        "L12",
        "mouldings and cornices: mason and labour 3.0 or 5.0 d for 10 m2",
        ("CPWD DAR 2019 13.24", REPRODUCTION),
        "no pack has mouldings, and the published price is not on the list",
    ),
    not_used(
        "L14",
        "0.30 d more of mason and labour for two curved coats",
        ("CPWD DAR 2019 13.23", REPRODUCTION),
        "portland-plaster takes the 30 % of one coat for every coat",
    ),
    not_used(
        "L22",
        "plasterer 6.50, labourer 4.50, water carrier 0.75 h for 10 m2",
        (
            "rate analysis for cement plaster, Pakistan MES-style schedule",
            REPRODUCTION,
        ),
        "the hours of the packs are those of CPWD; its mortar is V21",
    ),
    not_used(
        "C5",
        "least and most thickness by base",
        ("IRC Table R702.1(1), older edition", PRIMARY),
        "the packs follow ASTM C926 (C1 to C4)",
    ),
    not_used(
        "C6",
        "total of 1 in; fog cure of 72 h for the coats below",
        ("UFGS 09225", PRIMARY),
        "portland-plaster follows ASTM C926 and the 48 h of the code (C8)",
    ),
    not_used(
        "C7",
        "thickness and waits of a textbook",
        (
            "Building Design and Construction Handbook, section on stucco",
            REPRODUCTION,
        ),
        "the packs follow ASTM C926 and the code",
    ),
    not_used(
        "C9",
        "finish on day 6 by the cure times of C6 alone",
        ("UFGS 09225", DERIVED),
        "coats wait by the code: day 9",
    ),
    not_used(
        "C11",
        "external work stops at 5 C and falling, below 3 C and rising",
        ("NBS M20 cl. 497 (2014)", PRIMARY),
        "the packs follow IBC (C10)",
    ),
    not_used(
        "C12",
        "second coat within 1/4 in in 5 ft",
        ("IBC 2018 2512.5; UBC 1997 2508.3", PRIMARY),
        "a tolerance of the work, which no figure of an estimate rests on",
    ),
    not_used(
        "C14",
        "dubbing of 16 mm a coat, 20 mm in all",
        ("NBS M20 cl. 820, 130", PRIMARY),
        "dubbing is not counted: an uneven base takes three coats (C4)",
    ),
    not_used(
        "C21",
        "10 sheets of lath in a bundle",
        ("NAVEDTRA 14044", PRIMARY),
        "lath is priced by the sheet; a price book may price any pack",
    ),
    not_used(
        "C24",
        "lath of 2.5 or 3.4 lb/yd2",
        ("handbook of C7", REPRODUCTION),
        "the price book names the lath that is bought",
    ),
    not_used(
        "C29",
        "mortar is used within 2.5 h of mixing",
        ("ASTM C270 / TMS 602", PRIMARY),
        "portland-plaster plans no batches; vertical-concrete has a shorter working time of its own (F3)",
    ),
    not_used(
        "C31",
        "no precise drying time; 1 day for a mm is a trade rule",
        ("EN 13914-1:2016", PRIMARY),
        "coats wait by the code (C8), not by thickness",
    ),
    not_used(
        "T3",
        "Plowman's strength in % by maturity",
        ("Plowman, via textbook", WEAK),
        "the program tells no strength",
    ),
    not_used(
        "D6",
        "saturation pressure",
        ("ASHRAE Handbook", PRIMARY),
        "the program reckons with no vapour pressure, only with the dew point (D4, D5)",
    ),
    not_used(
        "P8",
        "definition of the project by class: 0-2, 1-15, 10-40, 30-75, 50 (65) to 100 %",
        ("AACE International RP 18R-97, table 1", REPRODUCTION),
        "the estimator states the class; no figure rests on how far a project is defined",
    ),
    not_used(
        "W2",
        "plaster of 0.24 kN/m2 on tile or concrete",
        ("ASCE 7 Table C3.1-1", REPRODUCTION),
        "weights are worked out from the mix that is placed (W4)",
    ),
    not_used(
        "W5",
        "bond of 50 psi in shear",
        ("UBC, via NCMA-TEK 79 (1976)", PRIMARY),
        "no strength is worked out: attachment is for a licensed engineer, as the caution says",
    ),
    not_used(
        "W6",
        "units up to 36 in and 5 ft2",
        ("TMS 402-11/13/16", MEMORY),
        "limits of units; the coats here are monolithic",
    ),
    not_used(
        "W7",
        "setting bed of 3/8 to 1 1/2 in",
        ("NCMA TEK 3-6C (2012) fig. 1", PRIMARY),
        "no units are set",
    ),
];
