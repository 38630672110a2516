//! What each substrate gets before the scratch coat, on a face of 100 ft2 with a finish coat of
//! 3/4 in. All of it is common practice, no source, unless a test names one.

mod common;

use common::{Answer, close, edited, face, near, pack};

/// The items of a face of 100 ft2, without those that every face has.
fn preparation(substrate: &str, inches: f64) -> Vec<String> {
    let every = [
        "sheeting",
        "masking",
        "water",
        "finish-mix",
        "release",
        "curing-cover",
    ];
    let answer = face(substrate, "stamp", inches).ask(&pack());
    answer
        .items()
        .into_iter()
        .filter(|item| !every.contains(&item.as_str()))
        .collect()
}

fn stamped(substrate: &str) -> Answer {
    face(substrate, "stamp", 0.75).ask(&pack())
}

/// Gallons of primer on the cured scratch coat of 100 ft2: 100 / 150 = 0.667.
const ON_SCRATCH: f64 = 100.0 / 150.0;

#[test]
fn wood_gets_two_layers_of_paper_and_metal_lath() {
    assert_eq!(
        preparation("wood", 0.75),
        [
            "building-paper",
            "metal-lath",
            "lath-fastener",
            "scratch-mix",
            "bonding-primer"
        ]
    );
    let wood = stamped("wood");
    // Two layers of the quarter of a roll that one is laid out with; one of lath.
    close(wood.need("building-paper", "roll"), 0.5);
    close(wood.need("metal-lath", "sheet"), 6.0);
    // Damage alone: cutting is laid out.
    close(wood.waste("building-paper"), 0.03);
    close(wood.waste("metal-lath"), 0.03);
    // 7 x 16 in = 0.77778 ft2 each; 100 / 0.77778 = 128.571.
    near(wood.need("lath-fastener", "each"), 128.571, 5e-4);
    // Lath does not depend on the thickness here.
    assert!(face("wood", "texture", 0.25).ask(&pack()).has("metal-lath"));
    // No primer on wood: only that on the scratch coat.
    close(wood.need("bonding-primer", "gal"), ON_SCRATCH);
}

#[test]
fn masonry_is_cleaned_and_primed_and_never_lathed() {
    // Cleaner and primer coverages: block 150 and 150 ft2/gal, brick 150 and 200, concrete 200
    // and 250.
    for (substrate, cleaner, primer) in [
        ("block", 150.0, 150.0),
        ("brick", 150.0, 200.0),
        ("concrete", 200.0, 250.0),
    ] {
        assert_eq!(
            preparation(substrate, 0.75),
            ["masonry-cleaner", "bonding-primer", "scratch-mix"],
            "{substrate}"
        );
        let answer = stamped(substrate);
        close(answer.need("masonry-cleaner", "gal"), 100.0 / cleaner);
        close(
            answer.need("bonding-primer", "gal"),
            100.0 / primer + ON_SCRATCH,
        );
        assert!(answer.hours("prepare") > 0.0);
        assert!(!face(substrate, "carve", 3.0).ask(&pack()).has("metal-lath"));
    }
}

#[test]
fn foam_gets_the_backer_mix_as_its_scratch_coat() {
    assert_eq!(preparation("foam", 0.75), ["backer-mix", "bonding-primer"]);
    // 100 ft2 x 3/8 in = 3.125 ft3; / 0.45 ft3 = 6.9444 bags.
    near(stamped("foam").need("backer-mix", "bag"), 6.9444, 5e-5);
    close(stamped("foam").need("bonding-primer", "gal"), ON_SCRATCH);
}

#[test]
fn steel_and_bars_are_always_lathed() {
    for substrate in ["steel", "rebar"] {
        assert_eq!(
            preparation(substrate, 0.75),
            ["metal-lath", "lath-tie", "scratch-mix", "bonding-primer"],
            "{substrate}"
        );
        // 6 x 12 in = 0.5 ft2 each: 200 ties.
        close(stamped(substrate).need("lath-tie", "each"), 200.0);
        assert!(
            face(substrate, "texture", 0.25)
                .ask(&pack())
                .has("metal-lath")
        );
        close(stamped(substrate).need("bonding-primer", "gal"), ON_SCRATCH);
    }
}

#[test]
fn gypsum_is_primed_always_and_lathed_over_one_inch_in_total() {
    // 3/8 + 5/8 = 1 in exactly: primer, no lath.
    assert_eq!(
        preparation("gypsum", 0.625),
        ["bonding-primer", "scratch-mix"]
    );
    // 100 / 250 on the board and 100 / 150 on the scratch coat.
    let primer = 0.4 + ON_SCRATCH;
    close(
        face("gypsum", "stamp", 0.625)
            .ask(&pack())
            .need("bonding-primer", "gal"),
        primer,
    );
    // The same thickness written in millimetres (15.875 mm) is still exactly 1 in.
    let metric = face("gypsum", "stamp", 0.0).set("thickness", 15.875, "mm");
    assert!(!metric.ask(&pack()).has("metal-lath"));
    // Just above.
    assert_eq!(
        preparation("gypsum", 0.6251),
        [
            "metal-lath",
            "lath-fastener",
            "bonding-primer",
            "scratch-mix"
        ]
    );
    close(
        face("gypsum", "stamp", 0.75)
            .ask(&pack())
            .need("bonding-primer", "gal"),
        primer,
    );
}

#[test]
fn the_scratch_coat_counts_toward_the_total_on_gypsum() {
    // 1/2 in of scratch and 5/8 in of finish are over 1 in.
    let pack = edited(
        "tables/coats.csv",
        "scratch,thickness,3/8,",
        "scratch,thickness,1/2,",
    );
    assert!(face("gypsum", "stamp", 0.625).ask(&pack).has("metal-lath"));
}

#[test]
fn every_substrate_gets_a_scratch_coat_and_primer_on_it() {
    for substrate in ["block", "brick", "concrete", "gypsum"] {
        // 3.125 ft3 / 0.45 = 6.9444 bags; gypsum at 5/8 in has no lath.
        let answer = face(substrate, "stamp", 0.625).ask(&pack());
        near(answer.need("scratch-mix", "bag"), 6.9444, 5e-5);
        assert!(answer.need("bonding-primer", "gal") >= ON_SCRATCH);
        near(answer.hours("scratch"), 6.0, 1e-9);
        near(answer.hours("prime"), 0.6, 1e-9);
    }
}

/// V5: 0.107 in more behind lath, in the first coat only (Estimating in Building Construction,
/// fig. 16.7).
#[test]
fn lath_takes_mortar_for_its_key() {
    for substrate in ["wood", "steel", "rebar", "gypsum"] {
        let answer = stamped(substrate);
        // 0.375 + 0.107 = 0.482 in; 100 x 0.482 / 12 = 4.01667 ft3; / 0.45 = 8.92593 bags.
        near(answer.need("scratch-mix", "bag"), 8.92593, 5e-6);
        // The finish coat has none: 6.25 / 0.45 = 13.8889.
        near(answer.need("finish-mix", "bag"), 13.8889, 5e-5);
    }
}

#[test]
fn openings_reveals_and_count_are_the_programs_business() {
    // A face of 100 ft2 to be coated gives the same coats whatever its gross area is.
    let answer = face("block", "stamp", 0.75)
        .set("gross_area", 130.0, "ft2")
        .set("deducted_area", 40.0, "ft2")
        .set("reveal_area", 10.0, "ft2")
        .ask(&pack());
    near(answer.need("finish-mix", "bag"), 13.8889, 5e-5);
}

#[test]
fn cautions_of_the_substrates() {
    for (substrate, old, services) in [
        ("wood", false, true),
        ("block", true, false),
        ("brick", true, false),
        ("concrete", true, false),
        ("foam", false, false),
        ("steel", false, true),
        ("rebar", false, true),
        ("gypsum", false, true),
    ] {
        let answer = stamped(substrate);
        assert_eq!(answer.cautions("old-coatings"), old, "{substrate}");
        assert_eq!(answer.cautions("hidden-services"), services, "{substrate}");
        let board = substrate == "gypsum";
        assert_eq!(answer.cautions("old-board"), board, "{substrate}");
    }
    // Without lath there is nothing to fasten.
    assert!(
        !face("gypsum", "stamp", 0.625)
            .ask(&pack())
            .cautions("hidden-services")
    );
}
