use super::*;

fn hashed(text: &str) -> u64 {
    let mut hasher = DefaultHasher::new();
    hash_lower(text, &mut hasher);
    hasher.finish()
}

#[test]
fn names_that_are_the_same_in_small_letters_have_one_mark() {
    let long = "The wall of the stair behind the hall, from floor to floor";
    let pairs = [
        ("Wall 1", "WALL 1"),
        ("Süd", "SÜD"),
        // The sign of kelvin is a plain letter in small.
        ("2 \u{212a}", "2 k"),
        (long, &long.to_uppercase()),
    ];
    for (one, other) in pairs {
        assert_eq!(lower(one), lower(other));
        assert_eq!(hashed(one), hashed(other));
    }
    assert_ne!(hashed("Wall 1"), hashed("Wall 2"));
}
