use super::*;
use crate::sample::{self, Sample};
use crate::seal::is_sealed_page;
use parge_calc::job::Taxable;

fn page(sample: &Sample) -> String {
    bid_page(&sample.estimate).unwrap()
}

/// What stands between tags, without the drawings and styles.
fn words(page: &str) -> String {
    let page = page.split("<h2>Drawings</h2>").next().unwrap();
    let body = page.split("</style>").nth(1).unwrap();
    let parts = body
        .split('<')
        .filter_map(|part| part.split_once('>').map(|(_, text)| text));
    parts
        .filter(|text| !text.trim().is_empty())
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn the_page_of_a_small_job() {
    let text = page(&sample::with_everything());
    assert!(is_sealed_page(text.as_bytes()));
    assert!(!is_sealed_page(text.replace("Crane", "Plane").as_bytes()));
    insta::assert_snapshot!(text);
}

/// The client sees nothing of how the price came about, nor any amount that tells it.
#[test]
fn no_cost_is_on_the_page() {
    let sample = sample::with_everything();
    let price = &sample.estimate.price;
    let text = page(&sample);
    let hidden = [
        price.materials,
        price.labour,
        price.burden,
        price.overhead,
        price.profit,
        // Tax is on the materials here, so it would tell what they cost.
        price.tax,
    ];
    for amount in hidden {
        let amount = crate::explained::grouped(&amount.to_text());
        assert!(!text.contains(&amount), "{amount}");
    }
    let shown = words(&text).to_lowercase();
    for word in [
        "cost", "wage", "overhead", "profit", "markup", "margin", "burden", "7.25",
    ] {
        assert!(!shown.contains(word), "{word}");
    }
}

/// The lines of the price add to its total, with tax beside it only where it is on all of it.
#[test]
fn a_tax_on_the_total_stands_beside_the_price() {
    let mut sample = sample::with_everything();
    let rate = "0.07".parse().unwrap();
    sample.estimate.takeoff.measured.job.bid.tax = Some((rate, Taxable::Total));
    let text = words(&page(&sample));
    for line in ["Total before tax", "Tax, 7%"] {
        assert!(text.contains(line), "{text}");
    }
    let before = sample
        .estimate
        .price
        .total
        .minus(sample.estimate.price.tax)
        .unwrap();
    assert!(
        text.contains(&crate::explained::grouped(&before.to_text())),
        "{text}"
    );
}

/// How long it holds, and how exact it is: the total of a class 3 lies within -20 % and +30 %.
#[test]
fn validity_and_expected_accuracy_are_on_the_page() {
    let dated = "date   2026-04-20\n  valid 60 days";
    let plan = sample::PLAN.replace("date   2026-04-20", dated);
    let plan = plan.replace("bid { burden", "bid { class 3  burden");
    let sample = sample::run(&plan, &sample::PRICES, "USD");
    let text = words(&page(&sample));
    assert!(text.contains("\nValid until\n2026-06-19\n"), "{text}");
    let total = sample.estimate.price.total;
    let at = |share: &str| {
        let amount = total.share(share.parse().unwrap()).unwrap();
        crate::explained::grouped(&amount.to_text())
    };
    let expected = format!(
        "Class 3 estimate: the final price is expected between {} and {} USD.",
        at("0.8"),
        at("1.3")
    );
    assert!(text.contains(&expected), "{text}");
    let plain = words(&page(&sample::complete()));
    assert!(!plain.contains("Valid until") && !plain.contains("expected between"));
}

#[test]
fn a_bid_without_tax_says_so() {
    let bare = sample::run(sample::BARE_PLAN, &sample::PRICES, "USD");
    assert!(words(&page(&bare)).contains("No tax is in the price."));
}

/// A missing price is said wherever there is a total.
#[test]
fn an_incomplete_bid_says_so_at_every_total() {
    let text = words(&page(&sample::without_lath()));
    assert!(text.contains("INCOMPLETE: 1 line has no price"), "{text}");
    assert!(text.contains("\nTotal, INCOMPLETE\n"), "{text}");
    let rows = &sample::PRICES[..1];
    let plan = format!(
        "{}alternate \"Less\" {{ omit \"Bench\" }}\nstructure Bench on block {{ face seat rect 2ft x 2ft stone }}\n",
        sample::PLAN
    );
    let text = words(&page(&sample::run(&plan, rows, "USD")));
    assert!(text.contains("INCOMPLETE: no price"), "{text}");
}

/// Plans refuse some of these names; the page does not rest on that.
#[test]
fn hostile_names_stay_text() {
    let mut sample = sample::with_everything();
    let job = &mut sample.estimate.takeoff.measured.job;
    job.name = "<b>Court</b> & <script>x</script>\u{202e}".to_owned();
    job.structures[0].name = "'><img src=x onerror=y>".to_owned();
    job.faces[1].name = "x".repeat(20_000);
    job.client = Some("\u{1}\u{0}{{ 7*7 }}{% raw %}\u{ffff}".to_owned());
    job.content.notes[0] = "\" onmouseover=\"x".to_owned();
    let text = page(&sample);
    assert!(!text.contains("<img") && !text.contains("<script") && !text.contains("<b>Court"));
    assert!(text.contains("&#39;&gt;&lt;img src=x onerror=y&gt;"));
    assert!(text.contains("&quot; onmouseover=&quot;x"));
    assert!(text.contains("<bdi>\u{fffd}\u{fffd}{{ 7*7 }}{% raw %}\u{fffd}</bdi>"));
    assert!(text.chars().all(|ch| ch == '\n' || !ch.is_control()));
}

/// Every element that is opened is closed, in order; and nothing is asked of the network.
#[test]
fn the_page_is_whole_and_needs_nothing_else() {
    let text = page(&sample::with_everything());
    for word in [
        "http://", "https://", "href", "src=", "url(", "@import", "<script", "<link",
    ] {
        assert!(!text.contains(word), "{word}");
    }
    let mut open: Vec<&str> = Vec::new();
    for part in text.split('<').skip(1) {
        let (tag, _) = part.split_once('>').unwrap();
        let name = tag
            .split([' ', '/', '\n'])
            .find(|name| !name.is_empty())
            .unwrap();
        if tag.starts_with('/') {
            assert_eq!(open.pop(), Some(name), "{tag}");
        } else if !(tag.ends_with('/') || tag.starts_with('!') || name == "meta") {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
}
