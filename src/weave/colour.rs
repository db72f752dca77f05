//! The order of colours across the warp or along the weft: runs of threads that repeat, stripes one way and checks both. Counts
//! how many threads of each colour a cloth takes, so that each colour's yarn can be asked for.

use super::{Fault, MOST_THREADS};

/// A yarn's colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Colour {
    /// What people call it.
    pub name: String,
    /// sRGB.
    pub rgb: [u8; 3],
}

/// Undyed cotton.
pub const NATURAL: [u8; 3] = [237, 227, 206];

/// Colours that may be named, of undyed fibres and of old dye plants. The values are this project's own choice.
const NAMED: &[(&str, [u8; 3])] = &[
    ("natural", NATURAL),
    ("white", [247, 246, 240]),
    ("flax", [201, 186, 150]),
    ("grey", [142, 142, 138]),
    ("black", [42, 40, 42]),
    ("walnut", [108, 78, 55]),
    ("madder", [166, 62, 46]),
    ("rose", [196, 118, 110]),
    ("onion", [201, 134, 58]),
    ("weld", [217, 186, 72]),
    ("green", [104, 124, 76]),
    ("woad", [118, 148, 172]),
    ("indigo", [45, 62, 104]),
];

/// Threads of one colour side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Place in the list of colours.
    pub colour: usize,
    /// How many.
    pub threads: usize,
}

/// A stripe that others are counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Middle {
    /// Place in the list of colours.
    pub colour: usize,
    /// How broad it is.
    pub threads: usize,
    /// From the edge of the order's first thread to the stripe's middle, in half threads.
    pub twice: usize,
    /// The order is the same on both sides of it.
    pub even: bool,
}

/// Runs of colours, repeated for as many threads as there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColourOrder {
    runs: Vec<Run>,
    ends_at: Vec<usize>,
}

impl ColourOrder {
    /// All of one colour.
    pub fn plain(colour: usize) -> Self {
        Self::new(vec![Run { colour, threads: 1 }]).expect("one thread")
    }

    /// Of runs; neighbours of one colour are joined. At least one thread, at most [`MOST_THREADS`] in the repeat.
    pub fn new(runs: Vec<Run>) -> Result<Self, Fault> {
        let mut joined: Vec<Run> = Vec::new();
        for run in runs.into_iter().filter(|r| r.threads > 0) {
            match joined.last_mut() {
                Some(last) if last.colour == run.colour => last.threads = last.threads.saturating_add(run.threads),
                _ => joined.push(run),
            }
        }
        let mut total = 0usize;
        let ends_at: Vec<usize> = joined
            .iter()
            .map(|r| {
                total = total.saturating_add(r.threads);
                total
            })
            .collect();
        match total {
            0 => Err(Fault::new("an order of colours with no threads", "for example 24 natural, 6 indigo")),
            n if n > MOST_THREADS => {
                Err(Fault::new(format!("an order of {n} threads"), format!("at most {MOST_THREADS}")))
            }
            _ => Ok(ColourOrder { runs: joined, ends_at }),
        }
    }

    /// Reads `24 natural, 6 indigo, (2 natural 2 madder) x 3`; a colour is a name or `#rrggbb`, and new ones are added to
    /// `colours`. Groups may not be nested.
    pub fn parse(text: &str, colours: &mut Vec<Colour>) -> Result<Self, Fault> {
        let spaced = text.replace('(', " ( ").replace(')', " ) ").replace([',', ';'], " ").replace('×', "x");
        let mut words = spaced.split_whitespace().peekable();
        let (mut runs, mut group): (Vec<Run>, Option<usize>) = (Vec::new(), None);
        while let Some(word) = words.next() {
            match (word, group) {
                ("(", None) => group = Some(runs.len()),
                ("(", Some(_)) => {
                    return Err(Fault::new("a group of colours inside a group", "write the inner one out"));
                }
                (")", Some(start)) => {
                    let times = repeat_of(&mut words)?;
                    let block = runs[start..].to_vec();
                    if block.len().saturating_mul(times) > MOST_THREADS {
                        return Err(Fault::new(
                            format!("a group {times} times"),
                            format!("at most {MOST_THREADS} threads"),
                        ));
                    }
                    for _ in 1..times {
                        runs.extend_from_slice(&block);
                    }
                    group = None;
                }
                (")", None) => return Err(Fault::new("a ) without its (", "for example (2 natural 2 madder) x 3")),
                _ => {
                    let threads = word.parse().ok().filter(|n| (1..=MOST_THREADS).contains(n)).ok_or_else(|| {
                        Fault::new(
                            format!("\"{}\" is not a number of threads", short(word)),
                            "for example 24 natural, 6 indigo",
                        )
                    })?;
                    let name =
                        words.next().ok_or_else(|| Fault::new(format!("{threads} threads of no colour"), "name it"))?;
                    runs.push(Run { colour: find(name, colours)?, threads });
                }
            }
        }
        match group {
            Some(_) => Err(Fault::new("a ( without its )", "for example (2 natural 2 madder) x 3")),
            None => Self::new(runs),
        }
    }

    /// The runs of one repeat.
    pub fn runs(&self) -> &[Run] {
        &self.runs
    }
    /// Whether there is more than one colour.
    pub fn is_striped(&self) -> bool {
        self.runs.len() > 1
    }
    /// The stripe that others lie alike on both sides of, the broadest where there are several; where there is none, the broadest of all.
    pub fn middle(&self) -> Middle {
        let n = self.repeat();
        let even = |sum: usize| (0..n).all(|i| self.at(i) == self.at((sum + 2 * n - 1 - i) % n));
        let mut stripes: Vec<Middle> = Vec::new();
        let mut begin = 0;
        for (run, &end) in self.runs.iter().zip(&self.ends_at) {
            stripes.push(Middle {
                colour: run.colour,
                threads: run.threads,
                twice: begin + end,
                even: even(begin + end),
            });
            begin = end;
        }
        // a stripe that the repeat cuts in two is one stripe
        if let [first, .., last] = self.runs.as_slice()
            && first.colour == last.colour
        {
            let threads = first.threads + last.threads;
            let twice = (2 * n - last.threads + first.threads) % (2 * n);
            stripes.pop();
            stripes[0] = Middle { colour: first.colour, threads, twice, even: even(twice) };
        }
        let better = |a: &&Middle, b: &&Middle| (a.even, a.threads).cmp(&(b.even, b.threads));
        // of equals the first
        stripes.iter().rev().max_by(better).copied().unwrap_or(stripes[0])
    }
    /// Threads in one repeat.
    pub fn repeat(&self) -> usize {
        self.ends_at.last().copied().unwrap_or(1)
    }
    /// Colour of a thread, counted from 0.
    pub fn at(&self, thread: usize) -> usize {
        let place = thread % self.repeat();
        self.runs[self.ends_at.partition_point(|&end| end <= place)].colour
    }
    /// Threads of each of `colours` colours among the first `threads`.
    pub fn counts(&self, threads: usize, colours: usize) -> Vec<usize> {
        let mut count = vec![0; colours];
        let (whole, rest) = (threads / self.repeat(), threads % self.repeat());
        for (run, end) in self.runs.iter().zip(&self.ends_at) {
            let part = rest.saturating_sub(end - run.threads).min(run.threads);
            if let Some(n) = count.get_mut(run.colour) {
                *n += whole * run.threads + part;
            }
        }
        count
    }
    /// The runs of the first `threads`, written out.
    pub fn written_out(&self, threads: usize) -> Vec<Run> {
        let mut out: Vec<Run> = Vec::new();
        let mut left = threads;
        for run in self.runs.iter().cycle() {
            if left == 0 {
                break;
            }
            let n = run.threads.min(left);
            left -= n;
            match out.last_mut() {
                Some(last) if last.colour == run.colour => last.threads += n,
                _ => out.push(Run { threads: n, ..*run }),
            }
        }
        out
    }
    /// The same order begun with another of its threads, counted from 0.
    pub fn begun(&self, with: usize) -> Self {
        let turned: Vec<Run> = (0..self.repeat()).map(|i| Run { colour: self.at(with + i), threads: 1 }).collect();
        Self::new(turned).unwrap_or_else(|_| self.clone())
    }
    /// The same order begun so that `threads` of it end as they begin, as nearly as it can: the repeat that is cut is shared
    /// between both edges.
    pub fn balanced(&self, threads: usize) -> Self {
        // The first run lies at both edges when it is halved; the cut repeat is then shared.
        let rest = threads % self.repeat();
        let first = self.runs[0].threads;
        let extra = (rest + first) % self.repeat();
        let start = if rest == 0 { first / 2 } else { (self.repeat() + first - extra / 2 - extra % 2) % self.repeat() };
        self.begun(start)
    }
}

fn repeat_of<'a>(words: &mut std::iter::Peekable<impl Iterator<Item = &'a str>>) -> Result<usize, Fault> {
    let Some(times) = words.next_if(|w| w.starts_with('x')) else { return Ok(1) };
    let number = if times == "x" { words.next().unwrap_or("") } else { &times[1..] };
    number.parse().ok().filter(|n| (1..=MOST_THREADS).contains(n)).ok_or_else(|| {
        Fault::new(format!("\"{}\" is not a number of times", short(number)), "for example (2 natural 2 madder) x 3")
    })
}

/// Place of a colour in the list, added if it is new.
fn find(name: &str, colours: &mut Vec<Colour>) -> Result<usize, Fault> {
    let lower = name.to_lowercase();
    if let Some(place) = colours.iter().position(|c| c.name == lower) {
        return Ok(place);
    }
    let rgb = rgb_of(&lower).ok_or_else(|| {
        let known = NAMED.iter().map(|(n, _)| *n).collect::<Vec<_>>().join(", ");
        Fault::new(format!("the colour \"{}\" is not known", short(name)), format!("use #rrggbb or {known}"))
    })?;
    colours.push(Colour { name: lower, rgb });
    Ok(colours.len() - 1)
}

/// sRGB of a known name or of `#rrggbb`.
pub fn rgb_of(name: &str) -> Option<[u8; 3]> {
    if let Some((_, rgb)) = NAMED.iter().find(|(n, _)| *n == name) {
        return Some(*rgb);
    }
    let hex = name.strip_prefix('#').filter(|h| h.len() == 6 && h.bytes().all(|b| b.is_ascii_hexdigit()))?;
    let byte = |i: usize| u8::from_str_radix(&hex[i..i + 2], 16).ok();
    Some([byte(0)?, byte(2)?, byte(4)?])
}

fn short(text: &str) -> String {
    text.chars().take(24).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stripes_are_read_and_counted() {
        let mut colours = Vec::new();
        let order = ColourOrder::parse("4 natural, 2 indigo (1 natural 1 #A03020) x 2", &mut colours).unwrap();
        assert_eq!(colours.iter().map(|c| c.name.as_str()).collect::<Vec<_>>(), ["natural", "indigo", "#a03020"]);
        assert_eq!(order.repeat(), 10);
        let seen: Vec<usize> = (0..12).map(|t| order.at(t)).collect();
        assert_eq!(seen, [0, 0, 0, 0, 1, 1, 0, 2, 0, 2, 0, 0]);
        assert_eq!(order.counts(25, 3), [4 * 2 + 2 * 2 + 4, 2 * 2 + 1, 2 * 2]);
        assert_eq!(order.written_out(13).iter().map(|r| r.threads).collect::<Vec<_>>(), [4, 2, 1, 1, 1, 1, 3]);
    }

    #[test]
    fn the_middle_is_where_both_sides_are_alike() {
        let middle = |text: &str| ColourOrder::parse(text, &mut Vec::new()).unwrap().middle();
        assert_eq!(middle("24 natural 6 indigo"), Middle { colour: 0, threads: 24, twice: 24, even: true });
        // cut in two by the repeat: its middle is 1 end in
        let cut = middle("10 natural 6 indigo 8 natural");
        assert_eq!((cut.threads, cut.twice, cut.even), (18, 2, true));
        // the two natural stripes are broadest, yet only about the narrow ones is the order even
        let between = middle("10 natural 2 indigo 10 natural 4 madder");
        assert_eq!((between.colour, between.twice, between.even), (2, 48, true));
        assert!(!middle("8 natural 4 indigo 2 madder").even);
        assert!(middle("5 weld").even);
        for text in ["24 natural 6 indigo", "10 natural 6 indigo 8 natural", "1 weld 1 black 1 weld 3 rose"] {
            let (order, middle) = (ColourOrder::parse(text, &mut Vec::new()).unwrap(), middle(text));
            let n = order.repeat();
            for far in 0..2 * n {
                // threads as far to the right of the middle as to the left of it
                let (right, left) = (middle.twice.div_ceil(2) + far, middle.twice / 2 + 4 * n - 1 - far);
                assert_eq!(order.at(right), order.at(left), "{text}, {far} away");
            }
        }
    }

    #[test]
    fn counts_agree_with_counting() {
        let order = ColourOrder::parse("5 natural 3 weld 1 black", &mut Vec::new()).unwrap();
        for threads in 0..60 {
            let mut by_hand = vec![0; 3];
            (0..threads).for_each(|t| by_hand[order.at(t)] += 1);
            assert_eq!(order.counts(threads, 3), by_hand);
        }
    }

    #[test]
    fn a_balanced_order_ends_as_it_begins() {
        let order = ColourOrder::parse("8 natural 4 madder", &mut Vec::new()).unwrap();
        for threads in [36, 40, 44, 100] {
            let balanced = order.balanced(threads);
            let across: Vec<usize> = (0..threads).map(|t| balanced.at(t)).collect();
            assert!(across.iter().eq(across.iter().rev()), "{threads}: {across:?}");
        }
    }

    #[test]
    fn wrong_orders_say_why() {
        for (text, why) in [
            ("", "no threads"),
            ("natural 4", "is not a number of threads"),
            ("4", "of no colour"),
            ("4 sky-blue-pink", "is not known"),
            ("4 #12345", "is not known"),
            ("(4 natural", "without its )"),
            ("4 natural)", "without its ("),
            ("((4 natural))", "inside a group"),
            ("(4 natural) x 999999999", "not a number of times"),
            ("99999999999999999999 natural", "is not a number of threads"),
            ("90000 natural 90000 madder", "an order of 180000"),
        ] {
            let fault = ColourOrder::parse(text, &mut Vec::new()).unwrap_err();
            assert!(fault.message.contains(why), "{text}: {fault}");
        }
    }
}
