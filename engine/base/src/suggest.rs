//! "did you mean": the nearest known name to a misspelt one.

/// The longest name that is compared, in bytes. Comparing takes time by the product of the two
/// lengths, and a longer one is noise.
const LONGEST: usize = 256;

/// The known name that a misspelt one most likely stands for, if any is near enough:
/// at most a third of its letters wrong, and never fewer than one allowed.
pub fn nearest<'a>(wrong: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if wrong.len() > LONGEST {
        return None;
    }
    let lower = wrong.to_lowercase();
    let limit = (lower.chars().count() / 3).max(1);
    known
        .into_iter()
        .filter(|name| name.len() <= LONGEST)
        .map(|name| (strsim::osa_distance(&lower, &name.to_lowercase()), name))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, name)| name)
}

/// The help line for a misspelt name: the nearest one, or else the whole list of known ones.
pub fn help_for<'a>(wrong: &str, known: impl IntoIterator<Item = &'a str> + Clone) -> String {
    if let Some(name) = nearest(wrong, known.clone()) {
        return format!("did you mean `{name}`?");
    }
    let names: Vec<String> = known.into_iter().map(|name| format!("`{name}`")).collect();
    match names.as_slice() {
        [] => "none is defined yet".to_owned(),
        [only] => format!("the only one known is {only}"),
        [init @ .., last] => format!("known here: {} and {last}", init.join(", ")),
    }
}

#[cfg(test)]
mod tests;
