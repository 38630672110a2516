use super::*;
use crate::testing::{measured, said};
use parge_base::Sources;
use proptest::prelude::*;

const HEAD: &str = "parge 1\njob \"Test\" { rules \"small\" }\n\
     finish plain { technique stamp  thickness 1in }\n";

fn plan(structures: &[(&str, &str)]) -> String {
    let structures = structures.iter().map(|(name, after)| {
        format!("structure {name} on block {{ {after}\nface f rect 4ft x 4ft plain }}\n")
    });
    format!("{HEAD}{}", structures.collect::<String>())
}

fn after(text: &str) -> Vec<Vec<usize>> {
    let job = measured(text).job;
    job.structures.into_iter().map(|one| one.after).collect()
}

#[test]
fn a_structure_may_wait_for_several_wherever_they_stand() {
    let text = plan(&[("a", "after c, \"b\""), ("b", ""), ("c", "after b")]);
    assert_eq!(after(&text), [vec![2, 1], vec![], vec![1]]);
}

#[test]
fn a_structure_waits_as_its_template_says_unless_it_says_itself() {
    let text = format!(
        "{HEAD}template bay on block {{ after a\nface f rect 4ft x 4ft plain }}\n\
         structure a on block {{ face f rect 4ft x 4ft plain }}\n\
         structure b from bay\nstructure c from bay {{ after b }}\n"
    );
    assert_eq!(after(&text), [vec![], vec![0], vec![1]]);
}

#[test]
fn mistakes_in_the_order() {
    insta::assert_snapshot!(
        [
            plan(&[("Bench", ""), ("b", "after \"Bnech\"")]),
            plan(&[("a", "after a")]),
            plan(&[
                ("a", "after c"),
                ("b", "after a"),
                ("c", "after d, b"),
                ("d", ""),
                ("e", "after a"),
            ]),
            plan(&[
                ("a", "after b"),
                ("b", "after a"),
                ("c", "after d"),
                ("d", "after c")
            ]),
            plan(&[("a", ""), ("b", "after a, a")]),
            plan(&[("a", ""), ("b", "after a\nafter a")]),
        ]
        .map(|text| format!("{}\n", said(&text)))
        .join("\n")
    );
}

fn waits(edges: &[(usize, usize)], count: usize) -> Vec<Waits> {
    let span = Span::new(Sources::new().add("", ""), 0, 0);
    let mut waits = vec![Waits::new(); count];
    for (after, before) in edges {
        waits[after % count].push((before % count, span));
    }
    waits
}

proptest! {
    /// What is not stuck can be built one after the other; what is stuck cannot, and then there
    /// is a circle to show, each of whose members waits for the next.
    #[test]
    fn what_is_stuck_is_so_by_a_circle(
        edges in proptest::collection::vec((0..9_usize, 0..9_usize), 0..14)
    ) {
        let waits = waits(&edges, 9);
        let stuck = stuck(&waits);
        let mut built = [false; 9];
        for _ in 0..9 {
            for number in 0..9 {
                built[number] |= waits[number].iter().all(|(before, _)| built[*before]);
            }
        }
        for number in 0..9 {
            prop_assert_eq!(built[number], !stuck[number]);
        }
        let circles = circles(&waits, &stuck);
        prop_assert_eq!(circles.is_empty(), !stuck.contains(&true));
        for circle in circles {
            for (at, (number, _)) in circle.iter().enumerate() {
                let next = circle[(at + 1) % circle.len()].0;
                prop_assert!(waits[*number].iter().any(|(before, _)| *before == next));
            }
        }
    }
}

#[test]
fn a_long_chain_takes_no_stack() {
    let count = 50_000;
    let edges: Vec<_> = (1..count).map(|number| (number, number - 1)).collect();
    let waits = waits(&edges, count);
    assert!(!stuck(&waits).contains(&true));
}
