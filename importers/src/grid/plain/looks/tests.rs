use super::is_plain;

#[test]
fn formats_of_days_are_not_plain() {
    for code in [
        "General",
        "0.00",
        "0.0\" m\"",
        "#,##0 ;(#,##0)",
        "_(* #,##0.00_);\"x\"",
        "",
    ] {
        assert!(is_plain(code, None), "{code}");
    }
    for code in [
        "mm-dd-yy",
        "h:mm",
        "[h]:mm:ss",
        "0\" m",
        "0.00 d",
        "0\\\"d\\\"",
        "@ AM/PM",
    ] {
        assert!(!is_plain(code, None), "{code}");
    }
    assert!(!is_plain("General", Some(30)));
    assert!(is_plain("General", Some(0)));
}
