//! Coats, release, colour and sealer by technique. All of it is common practice, no source,
//! unless a test names one.

mod common;

use common::{close, edited, face, near, pack};

#[test]
fn the_finish_coat_is_area_times_thickness() {
    // Drive coat and build together: 100 ft2 x 3/4 in = 6.25 ft3; / 0.45 = 13.8889 bags.
    let answer = face("block", "stamp", 0.75).ask(&pack());
    near(answer.need("finish-mix", "bag"), 13.8889, 5e-5);
    // Waste of a stamped coat is 10 %: 15.2778 bags.
    near(answer.order("finish-mix", "bag"), 15.2778, 5e-5);
    // Carved 1 1/2 in: 12.5 / 0.45 = 27.7778 bags; waste 15 %: 31.9444.
    let answer = face("block", "carve", 1.5).ask(&pack());
    near(answer.need("finish-mix", "bag"), 27.7778, 5e-5);
    near(answer.order("finish-mix", "bag"), 31.9444, 5e-5);
}

#[test]
fn relief_adds_part_of_its_surface_to_the_mean_thickness() {
    // Carve: 1.5 in x (1 + 0.2 x 0.5) = 1.65 in; 13.75 ft3 / 0.45 = 30.5556 bags.
    let answer = face("block", "carve", 1.5)
        .set("relief", 1.2, "1")
        .ask(&pack());
    near(answer.need("finish-mix", "bag"), 30.5556, 5e-5);
    // Stamp: 0.75 x (1 + 0.2 x 0.25) = 0.7875 in; 6.5625 / 0.45 = 14.5833 bags.
    let answer = face("block", "stamp", 0.75)
        .set("relief", 1.2, "1")
        .ask(&pack());
    near(answer.need("finish-mix", "bag"), 14.5833, 5e-5);
    // The scratch coat is flat: 6.9444 bags as without relief.
    near(answer.need("scratch-mix", "bag"), 6.9444, 5e-5);
}

#[test]
fn water_is_counted_at_the_high_end() {
    // 6.9444 + 13.8889 = 20.8333 bags x 5 qt = 104.167 qt = 26.0417 gal.
    near(
        face("block", "stamp", 0.75)
            .ask(&pack())
            .need("water", "gal"),
        26.0417,
        5e-5,
    );
    // A low end over the high end is a slip in the table.
    let pack = edited(
        "tables/mixes.csv",
        "finish-mix,water_low,4 3/4,",
        "finish-mix,water_low,6,",
    );
    assert_eq!(face("block", "stamp", 0.75).ask(&pack).warnings().len(), 1);
}

#[test]
fn stamping_needs_release_and_carving_none() {
    // 100 x 1.1 / 250 = 0.44 gal.
    let stamp = face("block", "stamp", 0.75)
        .set("relief", 1.1, "1")
        .ask(&pack());
    close(stamp.need("release", "gal"), 0.44);
    for technique in ["carve", "texture"] {
        assert!(
            !face("block", technique, 0.75).ask(&pack()).has("release"),
            "{technique}"
        );
    }
}

#[test]
fn each_technique_has_its_hours() {
    let stamp = face("block", "stamp", 0.75).ask(&pack());
    // Texture roller, release and stamp: 100 x 0.045; joints and touch-up: 100 x 0.02.
    close(stamp.hours("stamp"), 4.5);
    close(stamp.hours("carve"), 2.0);
    let carve = face("block", "carve", 1.5)
        .set("relief", 1.2, "1")
        .ask(&pack());
    // 100 x 1.2 x 0.15 = 18 h.
    close(carve.hours("carve"), 18.0);
    close(carve.hours("stamp"), 0.0);
    let texture = face("block", "texture", 0.5).ask(&pack());
    close(texture.hours("stamp"), 2.0);
    close(texture.hours("carve"), 0.0);
}

#[test]
fn a_thickness_out_of_the_range_is_said() {
    let warned = |technique: &str, inches: f64| {
        face("block", technique, inches)
            .ask(&pack())
            .warnings()
            .join(" ")
    };
    // Stamp 3/4 to 1 in; carve about 1 1/2 in, built up to 3 in; texture 1/4 to 3/4 in.
    for (technique, low, high) in [
        ("stamp", 0.75, 1.0),
        ("carve", 1.0, 3.0),
        ("texture", 0.25, 0.75),
    ] {
        assert_eq!(warned(technique, low), "", "{technique}");
        assert_eq!(warned(technique, high), "", "{technique}");
        assert!(
            warned(technique, low - 0.01).contains("thinner"),
            "{technique}"
        );
        assert!(
            warned(technique, high + 0.01).contains("thicker"),
            "{technique}"
        );
    }
    assert_eq!(warned("carve", 1.5), "");
    // 19.05 mm is 3/4 in and 25.4 mm is 1 in.
    for mm in [19.05, 25.4] {
        let metric = face("block", "stamp", 0.0).set("thickness", mm, "mm");
        assert!(metric.ask(&pack()).warnings().is_empty(), "{mm}");
    }
}

#[test]
fn thick_work_goes_up_in_lifts() {
    let place = |inches: f64| face("block", "carve", inches).ask(&pack()).hours("place");
    // 1 1/2 in, one lift: 100 x 0.05 + 12.5 ft3 x 1.2 + 30 ft x 0.02 = 5 + 15 + 0.6 = 20.6 h.
    close(place(1.5), 20.6);
    // 2 in, two lifts: 5 + 16.6667 x 1.2 + 100 x 0.03 + 0.6 = 5 + 20 + 3 + 0.6 = 28.6 h.
    close(place(2.0), 28.6);
    // 3 in, two lifts: 5 + 30 + 3 + 0.6 = 38.6 h.
    close(place(3.0), 38.6);
}

#[test]
fn colours_share_the_surface_by_percentage() {
    let two = face("block", "stamp", 0.75)
        .set("relief", 1.15, "1")
        .colours(&[("granite", 0.6), ("moss", 0.4)])
        .ask(&pack());
    // 100 x 1.15 x (0.6 + 0.4) / 200 = 0.575 gal; 115 x 0.015 = 1.725 h.
    close(two.need("colour", "gal"), 0.575);
    close(two.need("colour/moss", "gal"), 0.23);
    close(two.hours("colour"), 1.725);
    assert!(two.warnings().is_empty());
    let none = face("block", "stamp", 0.75).ask(&pack());
    assert!(!none.has("colour"));
    close(none.hours("colour"), 0.0);
}

#[test]
fn colour_shares_that_do_not_add_up_are_said() {
    let shares = |a: f64, b: f64| {
        face("block", "stamp", 0.75)
            .colours(&[("a", a), ("b", b)])
            .ask(&pack())
    };
    // 90 %: counted as it stands, 90 / 200 = 0.45 gal, and said.
    let short = shares(0.6, 0.3);
    close(short.need("colour", "gal"), 0.45);
    assert_eq!(short.warnings().len(), 1);
    assert_eq!(shares(0.6, 0.5).warnings().len(), 1);
    // Thirds written with three digits, and exactly half a per cent off, are not worth a word.
    assert!(shares(0.667, 0.332).warnings().is_empty());
    assert!(shares(0.6, 0.395).warnings().is_empty());
    assert_eq!(shares(0.6, 0.394).warnings().len(), 1);
}

#[test]
fn sealer_by_coats_on_the_textured_surface() {
    let matte = face("block", "stamp", 0.75)
        .set("relief", 1.2, "1")
        .text("sheen", "matte");
    // Two coats where none are stated: 100 x 1.2 x 2 / 200 = 1.2 gal; 240 x 0.008 = 1.92 h.
    let two = matte.clone().ask(&pack());
    close(two.need("sealer", "gal"), 1.2);
    close(two.hours("seal"), 1.92);
    // Three coats as stated: 1.8 gal.
    close(
        matte
            .set("sealer_coats", 3.0, "1")
            .ask(&pack())
            .need("sealer", "gal"),
        1.8,
    );
    assert!(!face("block", "stamp", 0.75).ask(&pack()).has("sealer"));
}

#[test]
fn protection_always() {
    // Sheeting 10 ft x (4 + 3) ft = 70 ft2; masking 10 + 20 = 30 ft; cover 100 ft2.
    let plain = face("foam", "texture", 0.5).ask(&pack());
    close(plain.need("sheeting", "ft2"), 70.0);
    close(plain.need("masking", "ft"), 30.0);
    close(plain.need("curing-cover", "ft2"), 100.0);
    // Opening edges are masked too: 30 + 12 = 42 ft.
    let opening = face("foam", "texture", 0.5)
        .set("opening_edges", 12.0, "ft")
        .ask(&pack());
    close(opening.need("masking", "ft"), 42.0);
    // Where no foot is known, the missing sheeting is said.
    let disc = face("foam", "texture", 0.5)
        .set("bottom", 0.0, "ft")
        .ask(&pack());
    assert_eq!(disc.warnings().len(), 1);
}
