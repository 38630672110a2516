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
