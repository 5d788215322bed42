//! The known name a mistyped one most likely stands for.

/// The most similar of the known names, if one is similar enough to be worth asking about.
pub(crate) fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    known
        .into_iter()
        .map(|candidate| (strsim::damerau_levenshtein(name, candidate), candidate))
        .filter(|(edits, candidate)| *edits <= 1 + name.len().max(candidate.len()) / 4)
        .min()
        .map(|(_, candidate)| candidate)
}
