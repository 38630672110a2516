use super::*;

#[test]
fn work_within_work_stays_on_its_thread() {
    let here = thread::current().id();
    let (outer, inner) = with_stack(|| {
        let outer = thread::current().id();
        (outer, with_stack(|| thread::current().id()))
    });
    assert_ne!(outer, here);
    assert_eq!(outer, inner);
    assert_ne!(
        with_stack(|| thread::current().id()),
        here,
        "room is not left behind"
    );
}

#[test]
fn a_panic_comes_out_as_it_is() {
    let fault = panic::catch_unwind(|| with_stack(|| panic!("as it is"))).unwrap_err();
    assert_eq!(fault.downcast_ref::<&str>(), Some(&"as it is"));
}

#[test]
fn each_has_room_and_answers_come_in_their_order() {
    let all: Vec<usize> = (0..100).collect();
    let done = each_with_stack(&all, |one| (*one * 2, HAS_ROOM.get()));
    let wanted: Vec<_> = all.iter().map(|one| (one * 2, true)).collect();
    assert_eq!(done, wanted);
    assert_eq!(each_with_stack(&[] as &[u8], |one| *one), []);
}

#[test]
fn work_goes_on_meanwhile() {
    let here = thread::current().id();
    let (own, other) = meanwhile(
        || thread::current().id(),
        || (thread::current().id(), HAS_ROOM.get()),
    );
    assert_eq!(own, here);
    assert!(other.0 != here && other.1);
}
