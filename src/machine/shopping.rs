//! From parts to purchases: what boards and rods to cut, how, and what it weighs and costs.
//!
//! Parts of one section and stuff make one cutting job; lengths to be had come from the maker's own list or from the shelf.

use crate::machine::Refusal;
use crate::machine::cutting::{self, Cutting, Saw, Stock, Wanted};
use crate::machine::loom::parts::{Piece, Stuff, density};
use crate::trade::stock::{self, System};
use crate::units::{FOOT, INCH, KG, Length, MM, Mass, Q};

/// Lengths a shop or a heap has of one section and stuff.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// "27x144", "rod 45".
    pub section: String,
    /// Species; empty for any.
    pub of: String,
    pub stock: Vec<Stock>,
}

/// One job: a section, its pieces, its boards.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// "beech, 27 x 144 mm".
    pub title: String,
    /// True thickness (or diameter) and width, for the drawing.
    pub face: (f64, f64),
    pub pieces: Vec<Wanted>,
    pub stock: Vec<Stock>,
    pub saw: Saw,
    pub cutting: Cutting,
    /// g/cm³ and mm² of the section.
    pub density: f64,
    pub area: f64,
}

impl Job {
    /// Mass of the boards bought.
    pub fn bought(&self) -> Q<Mass> {
        let long: f64 = self.cutting.boards.iter().map(|b| self.stock[b.stock].length.get(&MM)).sum();
        Q::new(long * self.area * self.density / 1e6, &KG)
    }
    /// Equal boards counted together: how many, and one of them.
    pub fn patterns(&self) -> Vec<(u32, &cutting::Board)> {
        let mut out: Vec<(u32, &cutting::Board)> = Vec::new();
        for board in &self.cutting.boards {
            match out.iter_mut().find(|(_, b)| b.stock == board.stock && b.cuts == board.cuts) {
                Some((n, _)) => *n += 1,
                None => out.push((1, board)),
            }
        }
        out
    }
}

/// A line of the shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub mark: String,
    pub words: String,
    pub how_many: u32,
    pub mass: Q<Mass>,
    pub price: Option<f64>,
}

/// All jobs and the rest of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct Shopping {
    pub jobs: Vec<Job>,
    pub lines: Vec<Line>,
    /// Sum of all prices, with its money, where every line has one.
    pub total: Option<(f64, String)>,
    /// The money of the prices, where any is given.
    pub money: Option<String>,
    pub system: System,
}

impl Shopping {
    /// Sum of the prices there are, and how many lines have none.
    pub fn so_far(&self) -> (f64, usize) {
        (self.lines.iter().filter_map(|l| l.price).sum(), self.lines.iter().filter(|l| l.price.is_none()).count())
    }
}

/// What the maker says about buying.
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    pub system: System,
    pub saw: Saw,
    pub offers: Vec<Offer>,
    /// Prices of bought parts by mark.
    pub prices: Vec<(String, f64)>,
    /// The money all prices are in: "EUR".
    pub money: Option<String>,
}

impl Terms {
    /// The shelf's lengths, a table saw, no prices.
    pub fn plain(system: System) -> Terms {
        Terms {
            system,
            saw: Saw { kerf: Q::new(stock::KERFS_MM[0].1, &MM), trim: Q::new(10.0, &MM) },
            offers: Vec::new(),
            prices: Vec::new(),
            money: None,
        }
    }
}

/// Works the list out.
///
/// # Errors
/// Prices without a money, or a piece no offered length holds.
pub fn list(parts: &[Piece], terms: &Terms) -> Result<Shopping, Refusal> {
    check_money(terms)?;
    let mut jobs: Vec<Job> = Vec::new();
    for (key, pieces) in grouped(parts) {
        jobs.push(job(&key, &pieces, terms)?);
    }
    let mut lines: Vec<Line> = jobs.iter().flat_map(board_lines).collect();
    for part in parts.iter().filter(|p| p.length().is_none()) {
        let price = terms.prices.iter().find(|(m, _)| *m == part.mark).map(|(_, p)| p * f64::from(part.how_many));
        let note = if part.note.is_empty() { String::new() } else { format!(": {}", part.note) };
        let of = if part.of.is_empty() { String::new() } else { format!("{}, ", part.of) };
        lines.push(Line {
            mark: part.mark.clone(),
            words: format!("{of}{}{note}", part.name),
            how_many: part.how_many,
            mass: part.mass(density(part)),
            price,
        });
    }
    let sum: Option<f64> = lines.iter().map(|l| l.price).sum();
    let total = sum.zip(terms.money.clone());
    Ok(Shopping { jobs, lines, total, money: terms.money.clone(), system: terms.system })
}

fn check_money(terms: &Terms) -> Result<(), Refusal> {
    let priced = terms.prices.iter().map(|(m, p)| (m.as_str(), *p));
    let offered =
        terms.offers.iter().flat_map(|o| o.stock.iter().filter_map(|s| s.price.map(|p| (s.name.as_str(), p))));
    let all: Vec<(&str, f64)> = priced.chain(offered).collect();
    if let Some((what, price)) = all.iter().find(|(_, p)| !(0.0..=1e7).contains(p)) {
        return Err(Refusal::new(
            "prices",
            format!("the price of {what:?} is {price}: a sum of money from 0 up is accepted"),
        ));
    }
    if !all.is_empty() && terms.money.as_deref().is_none_or(|m| m.trim().is_empty()) {
        return Err(Refusal::new("prices", "prices are given in no money: say which, as in money = \"EUR\""));
    }
    Ok(())
}

/// What one job is of.
#[derive(Clone, Debug, PartialEq)]
struct Key {
    section: String,
    of: &'static str,
    face: (f64, f64),
    area: f64,
    round: bool,
}

fn grouped(parts: &[Piece]) -> Vec<(Key, Vec<&Piece>)> {
    let mut out: Vec<(Key, Vec<&Piece>)> = Vec::new();
    for part in parts {
        let Some(key) = key_of(part) else { continue };
        match out.iter_mut().find(|(k, _)| k.section == key.section && k.of == key.of) {
            Some((_, list)) => list.push(part),
            None => out.push((key, vec![part])),
        }
    }
    out
}

fn key_of(part: &Piece) -> Option<Key> {
    let quarter = std::f64::consts::FRAC_PI_4;
    match part.stuff {
        Stuff::Board { section, thick, wide, .. } => {
            let name = if section == "square" { format!("square {thick:.0}") } else { section.to_string() };
            Some(Key { section: name, of: part.of, face: (thick, wide), area: thick * wide, round: false })
        }
        Stuff::Rod { diameter: d, .. } => {
            Some(Key { section: format!("rod {d:.0}"), of: part.of, face: (d, d), area: quarter * d * d, round: true })
        }
        Stuff::Tube { diameter: d, wall, .. } => Some(Key {
            section: format!("tube {d:.0} x {wall:.1}"),
            of: part.of,
            face: (d, d),
            area: 4.0 * quarter * wall * (d - wall),
            round: true,
        }),
        Stuff::Sheet { .. } | Stuff::Bought => None,
    }
}

fn job(key: &Key, parts: &[&Piece], terms: &Terms) -> Result<Job, Refusal> {
    let pieces: Vec<Wanted> = parts
        .iter()
        .filter_map(|p| {
            p.length().map(|l| Wanted { mark: p.mark.clone(), length: Q::new(l, &MM), how_many: p.how_many })
        })
        .collect();
    let offered = (terms.offers.iter()).find(|o| o.section == key.section && (o.of.is_empty() || o.of == key.of));
    let longest = pieces.iter().map(|p| p.length.get(&MM)).fold(0.0, f64::max);
    let stock = offered.map_or_else(|| shelf(key, terms.system, longest), |o| o.stock.clone());
    // Rods come square ended; a trim would only waste.
    let saw = if key.round { Saw { trim: Q::new(0.0, &MM), ..terms.saw } } else { terms.saw };
    let cutting = cutting::cut(&pieces, &stock, saw)?;
    let size = stock::Section::find(&key.section).map_or_else(|| key.section.clone(), stock::Section::words);
    Ok(Job {
        title: format!("{}, {size}", key.of),
        face: key.face,
        pieces,
        stock,
        saw,
        cutting,
        density: density(parts[0]),
        area: key.area,
    })
}

/// The lengths on the shelf; rods longer than any sold are asked for at the next half metre.
fn shelf(key: &Key, system: System, longest: f64) -> Vec<Stock> {
    let lengths: Vec<(String, Q<Length>)> = match (system, key.round) {
        (System::Metric, false) => {
            stock::LENGTHS_METRIC_MM.iter().map(|l| (format!("{:.1} m", l / 1e3), Q::new(*l, &MM))).collect()
        }
        (System::Inch, false) => {
            stock::LENGTHS_FEET.iter().map(|l| (format!("{l:.0} ft"), Q::new(*l, &FOOT))).collect()
        }
        (System::Metric, true) => {
            stock::ROD_METRIC_MM.iter().map(|l| (format!("{:.1} m", l / 1e3), Q::new(*l, &MM))).collect()
        }
        (System::Inch, true) => stock::ROD_INCHES.iter().map(|l| (format!("{l:.0} in"), Q::new(*l, &INCH))).collect(),
    };
    let mut out: Vec<Stock> =
        lengths.into_iter().map(|(name, length)| Stock { name, length, at_most: None, price: None }).collect();
    if out.iter().all(|s| s.length.get(&MM) < longest + 25.0) {
        let length = ((longest + 25.0) / 500.0).ceil() * 500.0;
        out.push(Stock {
            name: format!("{:.1} m (to order)", length / 1e3),
            length: Q::new(length, &MM),
            at_most: None,
            price: None,
        });
    }
    out
}

fn board_lines(job: &Job) -> Vec<Line> {
    (job.stock.iter().enumerate())
        .filter_map(|(i, s)| {
            let n = job.cutting.boards.iter().filter(|b| b.stock == i).count() as u32;
            let kg = f64::from(n) * s.length.get(&MM) * job.area * job.density / 1e6;
            (n > 0).then(|| Line {
                mark: String::new(),
                words: format!("{}, {} long", job.title, s.name),
                how_many: n,
                mass: Q::new(kg, &KG),
                price: s.price.map(|p| p * f64::from(n)),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machine::loom::{self, tests::tern_bay};

    #[test]
    fn the_loom_is_cut_with_proved_jobs() {
        for system in [System::Metric, System::Inch] {
            let loom = loom::design(&loom::LoomWish { system, ..tern_bay() }).unwrap();
            let shopping = list(&loom.parts, &Terms::plain(system)).unwrap();
            let sawn: u32 = loom.parts.iter().filter(|p| p.length().is_some()).map(|p| p.how_many).sum();
            let cut: usize = shopping.jobs.iter().flat_map(|j| &j.cutting.boards).map(|b| b.cuts.len()).sum();
            assert_eq!(cut as u32, sawn);
            for job in &shopping.jobs {
                assert!(job.cutting.is_proved(), "{}: {} over {}", job.title, job.cutting.cost, job.cutting.least);
            }
            assert!(shopping.total.is_none());
        }
    }

    #[test]
    fn prices_need_a_money() {
        let loom = loom::design(&tern_bay()).unwrap();
        let mut terms = Terms::plain(System::Metric);
        terms.prices = loom.parts.iter().map(|p| (p.mark.clone(), 2.5)).collect();
        assert!(list(&loom.parts, &terms).unwrap_err().to_string().contains("in no money"));
        terms.money = Some(" ".into());
        assert!(list(&loom.parts, &terms).is_err());
        terms.money = Some("EUR".into());
        assert!(list(&loom.parts, &terms).unwrap().total.is_none(), "boards have no price yet");
        terms.prices.push(("C4".into(), -1.0));
        assert!(list(&loom.parts, &terms).unwrap_err().to_string().contains("price of"));
    }

    #[test]
    fn a_full_price_list_adds_up() {
        let loom = loom::design(&tern_bay()).unwrap();
        let plain = list(&loom.parts, &Terms::plain(System::Metric)).unwrap();
        let mut terms = Terms::plain(System::Metric);
        terms.money = Some("EUR".into());
        terms.prices = loom.parts.iter().map(|p| (p.mark.clone(), 1.0)).collect();
        for job in &plain.jobs {
            let (of, _) = job.title.split_once(", ").unwrap();
            let key =
                grouped(&loom.parts).into_iter().map(|(k, _)| k).find(|k| k.of == of && k.face == job.face).unwrap();
            let stock = job.stock.iter().map(|s| Stock { price: Some(s.length.to_si() * 4.0), ..s.clone() }).collect();
            terms.offers.push(Offer { section: key.section, of: of.into(), stock });
        }
        let priced = list(&loom.parts, &terms).unwrap();
        let (sum, money) = priced.total.clone().unwrap();
        assert_eq!(money, "EUR");
        let by_hand: f64 = priced.lines.iter().map(|l| l.price.unwrap()).sum();
        assert!((sum - by_hand).abs() < 1e-9 && sum > 50.0);
        assert_eq!(priced.so_far().1, 0);
    }

    /// With the boards priced and the bought parts not, the sum so far is the boards' and the rest is counted.
    #[test]
    fn some_prices_make_a_sum_so_far() {
        let loom = loom::design(&tern_bay()).unwrap();
        let mut terms = Terms::plain(System::Metric);
        terms.money = Some("EUR".into());
        terms.prices = vec![("D2".into(), 6.0)];
        let list = list(&loom.parts, &terms).unwrap();
        assert!(list.total.is_none());
        assert_eq!(list.so_far(), (12.0, list.lines.len() - 1), "two heddle sheets at six each");
    }
}
