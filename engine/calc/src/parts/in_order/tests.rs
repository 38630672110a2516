use super::*;
use std::sync::atomic::{AtomicUsize, Ordering};

#[test]
fn all_is_taken_in_order() {
    for count in [0, 1, 2, 3, 50] {
        let mut taken = Vec::new();
        let done = in_order(
            count,
            |number| number * 2,
            |double| {
                taken.push(double);
                Ok::<(), ()>(())
            },
        );
        assert_eq!(done, Ok(()));
        assert_eq!(
            taken,
            (0..count).map(|number| number * 2).collect::<Vec<_>>()
        );
    }
}

#[test]
fn nothing_more_is_made_after_an_error() {
    let made = AtomicUsize::new(0);
    let make = |number| {
        made.fetch_add(1, Ordering::SeqCst);
        number
    };
    let done = in_order(10_000, make, |number| match number {
        3 => Err("the third"),
        _ => Ok(()),
    });
    assert_eq!(done, Err("the third"));
    assert!(made.into_inner() < 10_000);
}
