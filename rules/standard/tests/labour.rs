//! Hours by phase, difficulties, and what is counted once for the job. All rates are common
//! practice, no source.

mod common;

use common::{close, edge, face, job, pack};

#[test]
fn hours_of_a_stamped_face() {
    let answer = face("block", "stamp", 0.75)
        .colours(&[("granite", 1.0)])
        .text("sheen", "matte")
        .ask(&pack());
    // Sheeting 10 x 0.03, masking 30 x 0.015, cover 100 x 0.003: 0.3 + 0.45 + 0.3.
    close(answer.hours("protect"), 1.05);
    // Cleaning 100 x 0.02, primer 100 x 0.006.
    close(answer.hours("prepare"), 2.6);
    close(answer.hours("lath"), 0.0);
    close(answer.hours("scratch"), 6.0);
    close(answer.hours("prime"), 0.6);
    // 100 x 0.05 + 6.25 x 1.2 + 30 x 0.02 = 5 + 7.5 + 0.6.
    close(answer.hours("place"), 13.1);
    close(answer.hours("stamp"), 4.5);
    close(answer.hours("carve"), 2.0);
    close(answer.hours("colour"), 1.5);
    close(answer.hours("seal"), 1.6);
    close(answer.hours("clean"), 1.0);
    close(answer.hours("mobilise"), 0.0);
}

#[test]
fn hours_of_paper_and_lath() {
    let answer = face("wood", "stamp", 0.75).ask(&pack());
    // Two layers: 200 x 0.006.
    close(answer.hours("prepare"), 1.2);
    close(answer.hours("lath"), 3.0);
}

#[test]
fn small_and_high_faces_take_more() {
    let base = face("block", "stamp", 0.75)
        .set("area", 21.0, "ft2")
        .ask(&pack());
    let at = |ft2: f64| {
        face("block", "stamp", 0.75)
            .set("area", ft2, "ft2")
            .ask(&pack())
    };
    // 20 ft2 exactly is a small face: 20 x 0.06 x 1.25 = 1.5 h; 21 ft2 is none: 1.26 h.
    close(at(20.0).hours("scratch"), 1.5);
    close(base.hours("scratch"), 1.26);
    // Waste of the finish mix 10 + 5 %.
    close(at(20.0).waste("finish-mix"), 0.15);
    close(base.waste("finish-mix"), 0.10);

    let high = face("block", "stamp", 0.75)
        .set("working_height", 12.0, "ft")
        .ask(&pack());
    // 6 x 1.15 = 6.9 h; waste 10 + 3 %; scaffold 120 ft2 x 0.015 = 1.8 h.
    close(high.hours("scratch"), 6.9);
    close(high.waste("finish-mix"), 0.13);
    close(high.hours("mobilise"), 1.8);

    // Small, high and curved together: 20 x 0.06 x 1.25 x 1.15 x 1.3 = 2.2425 h.
    let all = face("block", "stamp", 0.75)
        .set("area", 20.0, "ft2")
        .set("working_height", 12.0, "ft")
        .set("radius", 3.0, "ft")
        .ask(&pack());
    close(all.hours("scratch"), 2.2425);
    close(all.waste("finish-mix"), 0.18);
}

#[test]
fn edges_cost_labour_by_the_length() {
    let flat = face("block", "stamp", 0.75).ask(&pack());
    let edged = face("block", "stamp", 0.75)
        .set("opening_edges", 20.0, "ft")
        .ask(&pack());
    // 20 ft x 0.02 h/ft.
    close(edged.hours("place") - flat.hours("place"), 0.4);
}

#[test]
fn what_is_counted_once_for_the_job() {
    let answer = job().ask(&pack());
    // (1.5 + 2 x 0.25) x 3 = 6 h; 60 ft x 0.02 = 1.2 h.
    close(answer.hours("mobilise"), 6.0);
    close(answer.hours("clean"), 1.2);
}

#[test]
fn every_caution_defers_to_codes_data_sheets_and_licensed_trades() {
    let pack = pack();
    for key in pack.tables().keys("cautions", &[]).unwrap_or_default() {
        let text = pack
            .tables()
            .text("cautions", &[key, "text"])
            .unwrap_or_default();
        for word in ["ocal codes", "safety data sheet", "licensed trades"] {
            assert!(text.contains(word), "{key}: {word}");
        }
    }
}

/// A plan need not name its crew: then the pack's setting holds, two people, and no rule stops.
/// (1.5 h + 2 structures x 0.25 h) x 2 people = 4 h.
#[test]
fn without_a_crew_the_setting_holds() {
    let answer = job().absent("crew").ask(&pack());
    close(answer.hours("mobilise"), 4.0);
}

#[test]
fn conditions_of_the_site_multiply_hours_and_add_preparation() {
    let plain = face("block", "stamp", 0.75).ask(&pack());
    let tight = face("block", "stamp", 0.75)
        .conditions(&[("access", "tight"), ("place", "indoors")])
        .ask(&pack());
    // Scratch 6.0 x 1.15; protection 1.05 x 1.15 x 1.5.
    close(tight.hours("scratch"), 6.9);
    close(tight.hours("protect"), 1.81125);
    let painted = face("block", "stamp", 0.75)
        .conditions(&[("surface", "painted")])
        .ask(&pack());
    // 2.6 as ever, and 100 x 0.06 for taking the paint off.
    close(painted.hours("prepare"), 8.6);
    assert!(painted.cautions("old-coatings"));
    close(painted.hours("scratch"), plain.hours("scratch"));
}

#[test]
fn edges_take_hours_and_beads_by_length() {
    let joint = edge("joint").ask(&pack());
    // 10 ft x 0.04 h; 10 ft of bead and 10 % for cutting.
    close(joint.hours("lath"), 0.4);
    close(joint.need("joint-bead", "ft"), 10.0);
    close(joint.order("joint-bead", "ft"), 11.0);
    let cap = edge("cap")
        .set("working_height", 12.0, "ft")
        .conditions(&[("access", "tight")])
        .ask(&pack());
    // 10 ft x 0.12 h x 1.15 for the height x 1.15 for the access.
    close(cap.hours("carve"), 1.587);
    assert!(cap.items().is_empty());
}

/// A reveal with a finish of its own lies in a face: that face has the scaffold, and the reveal
/// is no small face.
#[test]
fn a_reveal_brings_no_scaffold_and_is_no_small_face() {
    let reveal = face("block", "stamp", 0.75)
        .set("area", 10.0, "ft2")
        .set("bottom", 0.0, "ft")
        .set("working_height", 12.0, "ft")
        .text("part", "reveal")
        .ask(&pack());
    // 10 x 0.06 x 1.15 for the height alone.
    close(reveal.hours("scratch"), 0.69);
    close(reveal.hours("mobilise"), 0.0);
    assert!(!reveal.has("scaffold"));
    assert!(reveal.warnings().is_empty());
}
