use super::*;
use crate::sample::{self, Sample};
use crate::seal::is_explanation;
use parge_calc::explain::explain;

fn page(sample: &Sample, name: &str) -> String {
    let explanation = explain(&sample.estimate, &sample.book, &sample.sources, name).unwrap();
    let job = &sample.estimate.takeoff.measured.job;
    explanation_html(&Outline::of(&explanation), job, &sample.sources)
}

#[test]
fn hostile_names_stay_text() {
    assert_eq!(
        escape("<script>alert(\"1\")</script> & 'more'\u{7}"),
        "&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &#39;more&#39;\u{fffd}"
    );
    let plan = sample::PLAN
        .replace("Court & garden walls", "<b>Court</b> & <script>x</script>")
        .replace("Entry planter", "<img src=x onerror=y> & 'so'");
    let sample = sample::run(&plan, &sample::PRICES, "USD");
    let page = page(&sample, "mix");
    assert!(!page.contains("<img") && !page.contains("<script") && !page.contains("<b>"));
    assert!(page.contains("&lt;img src=x onerror=y&gt; &amp; &#39;so&#39;"));
    assert!(page.contains("&lt;b&gt;Court&lt;/b&gt;"));
}

/// Every element that is opened is closed, in order; and nothing is asked of the network.
#[test]
fn the_page_is_whole_and_needs_nothing_else() {
    let page = page(&sample::with_everything(), "total");
    assert!(!page.contains("http") && !page.contains("<script") && !page.contains("<link"));
    let mut open = Vec::new();
    for tag in page.split('<').skip(1) {
        let name: String = tag
            .chars()
            .take_while(|l| l.is_ascii_alphanumeric() || *l == '/')
            .collect();
        match name.strip_prefix('/') {
            Some(closed) => assert_eq!(open.pop().as_deref(), Some(closed)),
            None if name.is_empty() || name == "meta" => {}
            None => open.push(name),
        }
    }
    assert_eq!(open, [""; 0]);
}

#[test]
fn a_small_page() {
    insta::assert_snapshot!(page(&sample::complete(), "ends.area"));
}

#[test]
fn a_page_that_was_changed_is_known() {
    let page = page(&sample::complete(), "ends.area");
    assert!(is_explanation(page.as_bytes()));
    assert!(!is_explanation(page.replace("width", "breadth").as_bytes()));
    assert!(!is_explanation(b"<!DOCTYPE html>"));
}
