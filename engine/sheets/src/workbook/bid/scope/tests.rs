use super::*;

fn rows(of: &[&'static str]) -> Vec<Sum<&'static str>> {
    sums(of.iter().map(|of| (*of, 1.5)))
}

#[test]
fn rows_of_the_same_are_one_line_however_they_stand() {
    let sums = rows(&["a", "a", "b", "a", "*", "a", "a", "B"]);
    let lines = sums.iter().map(|sum| {
        let formula = sum.formula("Faces", faces::ALL);
        format!("{} {} {}", sum.of, formula, sum.value)
    });
    insta::assert_snapshot!(lines.collect::<Vec<_>>().join("\n"), @r"
    a =SUM(Faces!$N$5:$N$6,Faces!$N$8,Faces!$N$10:$N$11) 7.5
    b =SUM(Faces!$N$7) 1.5
    * =SUM(Faces!$N$9) 1.5
    B =SUM(Faces!$N$12) 1.5
    ");
}

/// A sum over more rows than a formula can hold goes on in further lines, and leaves out none.
#[test]
fn a_long_sum_is_several_lines() {
    let of: Vec<&str> = ["a", "b"].into_iter().cycle().take(2_001).collect();
    let sums = rows(&of);
    let of_a: Vec<_> = sums.iter().filter(|sum| sum.of == "a").collect();
    let lengths: Vec<usize> = of_a.iter().map(|sum| sum.runs.len()).collect();
    assert_eq!(lengths, [200, 200, 200, 200, 200, 1]);
    assert!(!of_a[0].goes_on && of_a[1].goes_on && of_a[5].goes_on);
    let all: usize = sums
        .iter()
        .flat_map(|sum| &sum.runs)
        .map(|[a, b]| b - a + 1)
        .sum();
    assert_eq!(all, 2_001);
    assert_eq!(sums.iter().map(|sum| sum.value).sum::<f64>(), 1.5 * 2_001.0);
    assert!(
        sums.iter()
            .all(|sum| sum.formula("Faces", 13).len() < 8_000)
    );
}
