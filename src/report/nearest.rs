//! The nearest known word to a mistyped one. In: a word and the known ones. Out: the likeliest, if one is near enough.

/// The known word most like `found`: a Damerau-Levenshtein distance of at most a third of its length, or 1 from two
/// letters on; a single letter is only taken for the same letter in another case.
pub fn nearest<'a>(found: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = found.chars().count();
    let reach = (length / 3).max(usize::from(length > 1));
    known
        .into_iter()
        .map(|word| (strsim::damerau_levenshtein(&found.to_lowercase(), &word.to_lowercase()), word))
        .filter(|&(distance, _)| distance <= reach)
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, word)| word)
}
