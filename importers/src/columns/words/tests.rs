use super::*;
use proptest::prelude::*;

/// What a row says by a look at every word.
fn by_all_words(words: &Words, text: &str) -> RowWords {
    let text = normal(text);
    let said = words.rows.iter();
    let said = said.filter(|(word, _)| starts_with_words(&text, word));
    said.fold(RowWords::default(), |all, (_, kind)| {
        all.and(RowWords::of(*kind))
    })
}

proptest! {
    #[test]
    fn no_word_of_a_row_is_passed_over(
        number in any::<prop::sample::Index>(),
        before in "[ .:_*(-]{0,2}",
        behind in "[ .:_*/a-z0-9\\-É]{0,3}",
        own in "\\PC{0,3}",
    ) {
        let mut words = Words::default();
        prop_assert!(words.add("opening", &[own.clone(), "Ü".to_owned()]).is_ok());
        let (word, _) = number.get(&words.rows);
        let texts = [
            format!("{before}{word}{behind}"),
            format!("{before}{}{behind}", word.to_uppercase()),
            format!("{own}{behind}"),
            format!("{before}{behind}{own}"),
        ];
        for text in texts {
            prop_assert_eq!(words.of_row(&text), by_all_words(&words, &text), "{}", text);
        }
    }
}
