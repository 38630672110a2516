//! A plan of any number of faces: shapes, substrates, openings, templates, expressions, edges and
//! counts mixed as in the examples. The same number of faces always makes the same plan.

use std::fmt::Write;

const HEAD: &str = r#"parge 1

job "Made for the benches" {
  client "Nobody"
  date 2026-05-11
  units us
  rules "vertical-concrete"
  prices "prices.csv"
  crew 3
  bid { burden 34%  overhead 12%  profit margin 18%  tax 7.25% on materials }
}

let low = 2ft 8in
let high = 7ft 6in
let coping = 1ft 2in

finish drystone { technique stamp  thickness 3/4in  relief 1.10  colours granite 60%, moss 40%  sealer matte, 2 coats }
finish ashlar { technique stamp  thickness 1in  colours sandstone 100%  sealer matte }
finish bark { technique carve  thickness 1 1/2in  relief 1.25  colours umber 70%, lichen 30%  sealer matte, 1 coat }
finish cavern { technique carve  thickness 2in  relief 1.40  colours slate 80%, ochre 20%  sealer matte, 2 coats }

template bay(width, tall) on block {
  finish drystone
  face back rect width x tall
  face cheek rect 3ft x tall count 2
  face bench rect width x 18in ashlar
  face lip rect width x coping
  edge cap back.top
}
"#;

const FINISHES: [&str; 4] = ["drystone", "ashlar", "bark", "cavern"];
const SUBSTRATES: [&str; 6] = ["block", "steel", "rebar", "concrete", "wood", "foam"];
/// The faces of a structure that is written out.
const FACES: usize = 16;
/// The faces of a bay of the template.
const BAY: usize = 4;

/// A plan with so many faces, and at least one structure.
pub fn plan(faces: usize) -> String {
    let mut text = String::with_capacity(HEAD.len() + faces * 80);
    text.push_str(HEAD);
    let mut dice = Dice(0x5eed);
    let (mut made, mut number) = (0, 0);
    while made < faces {
        number += 1;
        // Every fifth structure comes from the template, while a whole one still fits.
        if number % 5 == 0 && faces - made >= BAY {
            bay(&mut text, number, &mut dice);
            made += BAY;
        } else {
            let here = FACES.min(faces - made);
            structure(&mut text, number, here, &mut dice);
            made += here;
        }
    }
    text
}

fn bay(text: &mut String, number: usize, dice: &mut Dice) {
    let width = dice.inches(96, 240);
    let _ = writeln!(text, "\nstructure \"Bay {number}\" from bay({width}, high)");
}

fn structure(text: &mut String, number: usize, faces: usize, dice: &mut Dice) {
    let substrate = dice.one_of(&SUBSTRATES);
    let finish = dice.one_of(&FINISHES);
    let _ = write!(
        text,
        "\nstructure \"Structure {number}\" on {substrate} {{\n  height high\n  finish {finish}\n  edge corner high count 4\n"
    );
    for face in 0..faces {
        let _ = write!(text, "  face f{face} ");
        shape(text, face, dice);
        text.push('\n');
    }
    text.push_str("}\n");
}

/// The shape of a face with what stands behind it.
fn shape(text: &mut String, face: usize, dice: &mut Dice) {
    let (long, short) = (dice.inches(96, 300), dice.inches(24, 60));
    let _ = match face {
        0 => write!(text, "rect {long}"),
        1 => write!(text, "rect f0.width x low"),
        2 => write!(text, "rect {long} x low + coping"),
        3 => write!(
            text,
            "rect {long} {{ opening hatch rect 2ft x 1ft 6in reveal 4in }}"
        ),
        4 => write!(text, "rect {short} x low count 2"),
        5 => write!(text, "cylinder diameter 3ft x {short}"),
        6 => write!(text, "arc radius 6ft sweep 90deg x {short}"),
        7 => write!(text, "trapezoid 6ft to 4ft x {short}"),
        8 => write!(
            text,
            "rect {long} {{ opening door arch 3ft x 6ft 6in reveal 6in  opening port circle diameter 8in reveal 4in count 2 }}"
        ),
        9 => write!(text, "frustum 30in to 22in x {short} count 3"),
        10 => write!(text, "triangle {long} x {short} at 9ft"),
        11 => write!(
            text,
            "polygon (0ft, 0ft) (9ft, 0ft) (8ft, 4ft) (3ft, 5ft 6in)"
        ),
        12 => write!(text, "dome diameter 6ft x {short}"),
        13 => write!(text, "rect {long} / 2 x high - coping ashlar"),
        14 => write!(text, "rect {short} x {short} on foam"),
        _ => write!(text, "rect {long} x {short} at 11ft"),
    };
}

/// Numbers that look accidental and are the same in every run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        // The multiplier and increment of Knuth's MMIX generator.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }

    fn one_of<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len() as u64) as usize]
    }

    fn inches(&mut self, least: u64, most: u64) -> String {
        let inches = least + self.below(most - least);
        format!("{}ft {}in", inches / 12, inches % 12)
    }
}
