//! Days that were fractions: a spreadsheet makes 3 April, or 4 March, of a typed `3/4`.

/// What rulers are divided into.
const PARTS: [u8; 5] = [2, 4, 8, 16, 32];

/// The one fraction of a ruler that the day can have been typed as. Only one of the two orders of
/// day and month gives a part of one.
pub(super) fn fraction_of(month: u8, day: u8) -> Option<(u8, u8)> {
    let fits = |top: u8, bottom: u8| top < bottom && top % 2 == 1 && PARTS.contains(&bottom);
    [(month, day), (day, month)]
        .into_iter()
        .find(|(top, bottom)| fits(*top, *bottom))
}
