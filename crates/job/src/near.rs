//! "Did you mean": the nearest of a list of words.

/// The word of `known` that is most likely meant by `found`, if one is close: at most a third of its letters differ.
pub(crate) fn nearest<'k>(found: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let found: Vec<char> = found.chars().flat_map(char::to_lowercase).take(LONGEST).collect();
    known
        .into_iter()
        .map(|word| (changes(&found, &word.chars().flat_map(char::to_lowercase).collect::<Vec<_>>()), word))
        .filter(|(changes, word)| *changes <= word.chars().count().div_ceil(3))
        .min_by_key(|(changes, _)| *changes)
        .map(|(_, word)| word)
}

/// Words longer than this are cut before they are compared; no key is half as long.
const LONGEST: usize = 80;

/// Letters put in, left out, replaced or swapped with their neighbour to turn one word into the other.
fn changes(from: &[char], to: &[char]) -> usize {
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in to.iter().enumerate() {
            let replaced = last[j] + usize::from(a != b);
            let mut least = replaced.min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *a == to[j - 1] && from[i - 1] == *b {
                least = least.min(before_last[j - 1] + 1);
            }
            row.push(least);
        }
        before_last = std::mem::replace(&mut last, row);
    }
    last[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn close_words_are_found_and_far_ones_are_not() {
        let known = ["thickness", "tolerance", "corner_tolerance", "at", "cut"];
        assert_eq!(nearest("thicknes", known), Some("thickness"));
        assert_eq!(nearest("Thikcness", known), Some("thickness"));
        assert_eq!(nearest("cornertolerance", known), Some("corner_tolerance"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("", known), None);
    }
}
