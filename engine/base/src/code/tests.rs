use super::*;

#[test]
fn every_code_is_one_letter_four_digits_and_stands_once() {
    let mut ids: Vec<&str> = Code::ALL.iter().map(|code| code.id()).collect();
    for id in &ids {
        let (letter, digits) = id.split_at(1);
        assert!(letter == "E" || letter == "W", "{id}");
        assert!(
            digits.len() == 4 && digits.bytes().all(|byte| byte.is_ascii_digit()),
            "{id}"
        );
    }
    ids.sort_unstable();
    let mut numbers: Vec<&str> = ids.iter().map(|id| &id[1..]).collect();
    numbers.sort_unstable();
    numbers.dedup();
    assert_eq!(numbers.len(), ids.len(), "a number is used twice");
}
