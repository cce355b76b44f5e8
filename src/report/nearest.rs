//! The nearest known word to a mistyped one. In: a word and the known ones. Out: the likeliest, if one is near enough.

/// The known word most like `found` (Damerau-Levenshtein distance at most a third of its length, or 1).
pub fn nearest<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let reach = (found.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(&found.to_lowercase(), &word.to_lowercase()), word))
        .filter(|&(distance, _)| distance <= reach)
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, word)| word)
}
