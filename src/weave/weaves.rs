//! Weaves by name: plain, ribs, hopsack, twills and satins, each built by its rule. The text form is the plan's: `"plain"`,
//! `"twill 2/2"`, `"twill 3/1 S"`, `"satin 5/2"`, `"hopsack 2"`, `"rib 2/2"`, `"weft rib 2/2"`.

use super::{Draft, Drawdown, Fault};

/// A weave that a rule makes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Weave {
    /// Over one, under one, both ways.
    Plain,
    /// Plain with several picks in each shed, so that the warp makes ribs across.
    Rib { over: u8, under: u8 },
    /// Plain with several ends working as one, so that the weft makes ribs along.
    WeftRib { over: u8, under: u8 },
    /// Plain with several ends and as many picks working as one.
    Hopsack(u8),
    /// Each pick is the one before, moved on by one end. `runs`: ends over, under, over, under … the weft, in one repeat.
    Twill { runs: Vec<u8>, slope: Slope },
    /// `ends` to the repeat, each end tied once, the tie moving on by `counter` from pick to pick.
    Satin { ends: u8, counter: u8, face: Face },
}

/// Which way a twill line rises on the face, the first pick at the bottom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slope {
    /// To the right, as the middle of the letter Z.
    Z,
    /// To the left, as the middle of the letter S.
    S,
}

/// Which yarn makes the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Satin.
    Warp,
    /// Sateen.
    Weft,
}

/// Longest run in a named weave.
const MOST_RUN: u8 = 32;

impl Weave {
    /// Reads the text form; words in any case, `/` or `-` between numbers, and the numbers before or after the name.
    pub fn parse(text: &str) -> Result<Weave, Fault> {
        let unknown = || {
            let help =
                "known are plain, rib 2/2, weft rib 2/2, hopsack 2, twill 2/2, twill 3/1 S, satin 5/2, sateen 8/3";
            Fault::new(format!("\"{}\" is not a weave", text.chars().take(40).collect::<String>()), help)
        };
        let lower = text.to_lowercase();
        let (mut name, mut numbers, mut slope) = (Vec::new(), None, Slope::Z);
        for word in lower.split_whitespace() {
            match word {
                "s" => slope = Slope::S,
                "z" => slope = Slope::Z,
                _ if word.starts_with(|c: char| c.is_ascii_digit()) && numbers.is_none() => {
                    let runs: Option<Vec<u8>> = word.split(['/', '-']).map(|n| n.parse().ok()).collect();
                    numbers = Some(runs.ok_or_else(unknown)?);
                }
                _ => name.push(word),
            }
        }
        let numbers = numbers.unwrap_or_default();
        let pair = || match numbers[..] {
            [] => Some((2, 2)),
            [n] => Some((n, n)),
            [a, b] => Some((a, b)),
            _ => None,
        };
        let weave = match (name.join(" ").as_str(), &numbers[..]) {
            ("plain" | "tabby" | "plain weave", []) => Weave::Plain,
            ("rib" | "warp rib", _) => pair().map(|(over, under)| Weave::Rib { over, under }).ok_or_else(unknown)?,
            ("weft rib", _) => pair().map(|(over, under)| Weave::WeftRib { over, under }).ok_or_else(unknown)?,
            ("hopsack", []) => Weave::Hopsack(2),
            ("hopsack", &[n]) => Weave::Hopsack(n),
            ("hopsack", &[a, b]) if a == b => Weave::Hopsack(a),
            ("twill", []) => Weave::Twill { runs: vec![2, 2], slope },
            ("twill", runs) => Weave::Twill { runs: runs.to_vec(), slope },
            ("satin", &[ends, counter]) => Weave::Satin { ends, counter, face: Face::Warp },
            ("sateen", &[ends, counter]) => Weave::Satin { ends, counter, face: Face::Weft },
            ("satin", &[ends]) => {
                Weave::Satin { ends, counter: counters(ends).first().copied().unwrap_or(0), face: Face::Warp }
            }
            ("sateen", &[ends]) => {
                Weave::Satin { ends, counter: counters(ends).first().copied().unwrap_or(0), face: Face::Weft }
            }
            _ => return Err(unknown()),
        };
        weave.check()?;
        Ok(weave)
    }

    /// Runs 1 to 32, an even number of them; a counter that leaves each end tied once and no two ties side by side.
    fn check(&self) -> Result<(), Fault> {
        let runs: &[u8] = match self {
            Weave::Plain => &[1, 1],
            Weave::Rib { over, under } | Weave::WeftRib { over, under } => &[*over, *under],
            Weave::Hopsack(n) => &[*n, *n],
            Weave::Twill { runs, .. } => runs,
            Weave::Satin { ends, counter, .. } => return check_satin(*ends, *counter),
        };
        if runs.len() < 2 || runs.len() % 2 == 1 || runs.len() > 16 {
            return Err(Fault::new(
                format!("{} runs do not make a weave", runs.len()),
                "give over and under in pairs, as 2/2 or 3/1/1/1",
            ));
        }
        if runs.iter().any(|&r| r == 0 || r > MOST_RUN) {
            return Err(Fault::new("a run of threads is 1 to 32", "for example 2/2"));
        }
        Ok(())
    }

    /// One repeat.
    pub fn repeat(&self) -> Drawdown {
        let block = match self {
            Weave::Plain => Drawdown::from_fn(2, 2, |e, k| (e + k) % 2 == 0),
            Weave::Rib { over, under } => {
                let (over, all) = (usize::from(*over), usize::from(*over) + usize::from(*under));
                Drawdown::from_fn(2, all, |e, k| (e == 0) == (k < over))
            }
            Weave::WeftRib { over, under } => {
                let (over, all) = (usize::from(*over), usize::from(*over) + usize::from(*under));
                Drawdown::from_fn(all, 2, |e, k| (k == 0) == (e < over))
            }
            Weave::Hopsack(n) => {
                let n = usize::from(*n);
                Drawdown::from_fn(2 * n, 2 * n, |e, k| (e < n) == (k < n))
            }
            Weave::Twill { runs, slope } => {
                let up: Vec<bool> = runs
                    .iter()
                    .enumerate()
                    .flat_map(|(i, &r)| std::iter::repeat_n(i % 2 == 0, usize::from(r)))
                    .collect();
                let n = up.len();
                match slope {
                    Slope::Z => Drawdown::from_fn(n, n, |e, k| up[(e + n - k) % n]),
                    Slope::S => Drawdown::from_fn(n, n, |e, k| up[(e + k) % n]),
                }
            }
            Weave::Satin { ends, counter, face } => {
                let (n, counter) = (usize::from(*ends), usize::from(*counter));
                Drawdown::from_fn(n, n, |e, k| (e == k * counter % n) == (*face == Face::Weft))
            }
        };
        block.expect("a named weave is small").repeat()
    }

    /// A draft for one repeat, with as few shafts as it needs.
    pub fn draft(&self) -> Draft {
        self.repeat().draft(&self.to_string()).expect("a named weave needs few shafts")
    }
}

/// Counters that make a satin on `ends`: no common divisor, and neither 1 nor `ends − 1`, which are twills.
pub fn counters(ends: u8) -> Vec<u8> {
    let common = |mut a: u8, mut b: u8| {
        while b > 0 {
            (a, b) = (b, a % b);
        }
        a
    };
    (2..ends.saturating_sub(1)).filter(|&c| common(ends, c) == 1).collect()
}

fn check_satin(ends: u8, counter: u8) -> Result<(), Fault> {
    let allowed = counters(ends);
    if ends > MOST_RUN || allowed.is_empty() {
        return Err(Fault::new(
            format!("there is no regular satin on {ends} ends"),
            "use 5, 7, 8 or more, at most 32; not 6",
        ));
    }
    if !allowed.contains(&counter) {
        let list = allowed.iter().map(u8::to_string).collect::<Vec<_>>().join(", ");
        return Err(Fault::new(
            format!("counter {counter} does not make a satin on {ends} ends"),
            format!("use {list}"),
        ));
    }
    Ok(())
}

impl std::fmt::Display for Weave {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Weave::Plain => f.write_str("plain"),
            Weave::Rib { over, under } => write!(f, "rib {over}/{under}"),
            Weave::WeftRib { over, under } => write!(f, "weft rib {over}/{under}"),
            Weave::Hopsack(n) => write!(f, "hopsack {n}"),
            Weave::Twill { runs, slope } => {
                let runs = runs.iter().map(u8::to_string).collect::<Vec<_>>().join("/");
                write!(f, "twill {runs}{}", if *slope == Slope::S { " S" } else { "" })
            }
            Weave::Satin { ends, counter, face } => {
                write!(f, "{} {ends}/{counter}", if *face == Face::Warp { "satin" } else { "sateen" })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_by_their_rules() {
        for (text, rows) in [
            ("plain", "10/01"),
            ("twill 2/2", "1100/0110/0011/1001"),
            ("2/2 twill S", "1100/1001/0011/0110"),
            ("twill 2/1", "110/011/101"),
            ("hopsack 2", "1100/1100/0011/0011"),
            ("rib 2/2", "10/10/01/01"),
            ("weft rib 2/1", "110/001"),
            ("sateen 5/2", "10000/00100/00001/01000/00010"),
            ("satin 5/2", "01111/11011/11110/10111/11101"),
        ] {
            assert_eq!(Weave::parse(text).unwrap().repeat().rows(), rows, "{text}");
        }
    }

    #[test]
    fn text_comes_back() {
        for text in
            ["plain", "rib 3/3", "weft rib 2/2", "hopsack 3", "twill 5/2/1/2", "twill 3/1 S", "satin 8/3", "sateen 5/2"]
        {
            assert_eq!(Weave::parse(text).unwrap().to_string(), text);
        }
    }

    #[test]
    fn wrong_names_and_counters_say_what_is_right() {
        assert_eq!(
            Weave::parse("satin 6/2").unwrap_err().to_string(),
            "there is no regular satin on 6 ends; use 5, 7, 8 or more, at most 32; not 6"
        );
        assert_eq!(
            Weave::parse("satin 8/2").unwrap_err().to_string(),
            "counter 2 does not make a satin on 8 ends; use 3, 5"
        );
        assert!(Weave::parse("basket of snakes").unwrap_err().message.contains("is not a weave"));
        for text in
            ["twill 2", "twill 0/2", "twill 2/2/1", "twill 99/1", "hopsack 0", "satin", "satin 999/3", "plain 3", ""]
        {
            assert!(Weave::parse(text).is_err(), "{text}");
        }
    }
}
