use super::*;

/// An empty zip file is its end record alone.
fn zip() -> Vec<u8> {
    let mut bytes = END_SIGNATURE.to_vec();
    bytes.resize(END_RECORD, 0);
    bytes
}

/// The published test value of FNV-1a for the letter `a`.
#[test]
fn the_fingerprint_is_fnv_1a() {
    assert_eq!(fingerprint(b"a"), 0xaf63_dc4c_8601_ec8c);
}

#[test]
fn a_sealed_file_is_untouched_until_a_byte_changes() {
    let sealed = seal(zip());
    assert!(is_untouched(&sealed));
    for at in 0..sealed.len() {
        let mut changed = sealed.clone();
        changed[at] ^= 1;
        assert!(!is_untouched(&changed), "byte {at}");
    }
    assert!(!is_untouched(&zip()), "written by somebody else");
    assert!(!is_untouched(b""));
}

#[test]
fn bytes_that_are_no_plain_zip_file_are_not_sealed() {
    assert_eq!(seal(b"short".to_vec()), b"short");
    assert_eq!(seal(seal(zip())), seal(zip()));
}

#[test]
fn an_estimate_as_json_may_be_replaced_and_other_json_may_not() {
    assert!(is_untouched(
        br#"{"job":{},"status":"complete","currency":"USD","faces":[],"price":{}}"#
    ));
    assert!(!is_untouched(br#"{"job":{}}"#));
}

#[test]
fn a_sealed_page_is_known_until_a_letter_changes() {
    let page = sealed_page("# Rules\n");
    assert!(page.starts_with("# Rules\n<!-- parge:") && page.ends_with(" -->\n"));
    assert!(is_sealed_page(page.as_bytes()));
    assert!(is_sealed_page(sealed_page("").as_bytes()));
    for at in 0..page.len() {
        let mut changed = page.clone().into_bytes();
        changed[at] ^= 1;
        assert!(!is_sealed_page(&changed), "byte {at}");
    }
    assert!(!is_sealed_page(
        format!("{page}a line of our own\n").as_bytes()
    ));
    assert!(!is_sealed_page(b"# Rules\n"));
}

/// In pieces and whole it is the same, also where a piece ends within the file.
#[test]
fn a_file_is_sealed_as_its_bytes_are() {
    for before in [0, 1, PIECE - END_RECORD, PIECE, 3 * PIECE + 7] {
        let bytes = [vec![7; before], zip()].concat();
        let mut file = Cursor::new(bytes.clone());
        seal_file(&mut file).unwrap();
        assert!(*file.get_ref() == seal(bytes), "{before}");
        assert!(is_untouched_file(&mut file), "{before}");
        file.get_mut()[before / 2] ^= 1;
        assert!(!is_untouched_file(&mut file), "{before}");
    }
    let mut short = Cursor::new(b"short".to_vec());
    seal_file(&mut short).unwrap();
    assert_eq!(short.into_inner(), b"short");
}
