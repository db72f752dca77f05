//! How sure, in words a novice reads once. No figures but counts: the number and its range stand beside the words.

/// Nothing measured.
pub fn assumed(source: &str) -> String {
    format!("Assumed: nobody has measured yours yet ({source}).")
}

/// "1 skein", "5 skeins".
pub fn count_of(n: usize, one: &str) -> String {
    match (n, one) {
        (1, _) => format!("1 {one}"),
        (_, one) if one.ends_with("ch") || one.ends_with('s') => format!("{n} {one}es"),
        _ => format!("{n} {one}s"),
    }
}

/// What an estimate rests on and what would help. `one` names a reading ("skein"), `place` a group ("bobbin").
pub fn rests_on(n: usize, groups: usize, one: &str, place: &str, prior_weight: f64, half_range: f64) -> String {
    let mut words = if one == place || place.is_empty() {
        format!("From {}.", count_of(n, one))
    } else {
        format!("From {} of {}.", count_of(n, one), count_of(groups, place))
    };
    words.push_str(match prior_weight {
        w if w > 0.6 => " Still mostly the usual figure, not yours.",
        w if w > 0.25 => " Partly the usual figure still.",
        _ => " Now mostly your own.",
    });
    if n == 1 {
        words.push_str(" One says nothing about how much they differ.");
    } else if groups == 1 && place != one && !place.is_empty() {
        words.push_str(&format!(" All from one {place}: take the next from another."));
    }
    words.push_str(match half_range {
        h if h > 0.25 => " Good enough to start with, not to buy or cut by.",
        h if h > 0.1 => " A rough figure: two or three more would help most.",
        h if h > 0.04 => " A fair figure.",
        _ => " A good figure: more would change little.",
    });
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_as_a_sentence() {
        assert_eq!(
            rests_on(5, 1, "skein", "bobbin", 0.3, 0.15),
            "From 5 skeins of 1 bobbin. Partly the usual figure still. All from one bobbin: take the next from another. \
             A rough figure: two or three more would help most."
        );
        assert_eq!(count_of(2, "batch"), "2 batches");
        assert_eq!(count_of(3, "swatch"), "3 swatches");
    }
}
