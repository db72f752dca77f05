//! The nearest name to a mistyped one, by edit distance.
//!
//! Serves units here and the plan's keys and words below. Knows no vocabulary of its own.

/// Names longer than this are not compared: nobody types them, and the work grows with the square of the length.
const LONGEST: usize = 40;

/// The name among `names` that `given` was most likely meant to be, or none if nothing is close. Swapped neighbours count as
/// one slip; one slip is allowed in each three letters, at least one. The first of equally near names wins.
pub fn near<'a>(given: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let given: Vec<char> = given.chars().take(LONGEST + 1).flat_map(char::to_lowercase).collect();
    if given.is_empty() || given.len() > LONGEST {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    for name in names {
        let letters: Vec<char> = name.chars().take(LONGEST + 1).flat_map(char::to_lowercase).collect();
        if letters.is_empty() || letters.len() > LONGEST {
            continue;
        }
        let allowed = (given.len().max(letters.len()) / 3).max(1);
        let slips = distance(&given, &letters);
        // A one-letter name is a slip away from every other: only its own other case counts as near.
        if slips <= allowed && slips < letters.len() && best.is_none_or(|(least, _)| slips < least) {
            best = Some((slips, name));
        }
    }
    best.map(|(_, name)| name)
}

/// Insertions, deletions, changes and swaps of neighbours between two words.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, from) in a.iter().enumerate() {
        let mut row = vec![i + 1; b.len() + 1];
        for (j, to) in b.iter().enumerate() {
            let change = last[j] + usize::from(from != to);
            row[j + 1] = change.min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && a[i - 1] == *to && a[i] == b[j - 1] {
                row[j + 1] = row[j + 1].min(before[j - 1] + 1);
            }
        }
        before = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_name() {
        let names = ["chest", "head", "neck_base", "waist"];
        assert_eq!(near("chesst", names), Some("chest"));
        assert_eq!(near("cehst", names), Some("chest"));
        assert_eq!(near("neckbase", names), Some("neck_base"));
        assert_eq!(near("elbow", names), None);
        assert_eq!(near("", names), None);
        assert_eq!(near(&"x".repeat(5000), names), None);
    }

    #[test]
    fn swaps_are_one_slip() {
        let of = |a: &str, b: &str| distance(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>());
        assert_eq!(of("abcd", "abdc"), 1);
        assert_eq!(of("kitten", "sitting"), 3);
        assert_eq!(of("", "abc"), 3);
    }
}
