//! From parts to purchases: what boards and rods to cut, how, and what it weighs and costs, for both machines together.
//!
//! Parts of one section and stuff make one cutting job, whichever machine they belong to; lengths to be had come from the maker's
//! own list or from the shelf. What is not sawn is listed machine by machine under its mark.

use crate::machine::Refusal;
use crate::machine::cutting::{self, Cutting, Saw, Stock, Wanted};
use crate::machine::loom::parts::{Piece, Stuff, density};
use crate::machine::netlist::sizes::Buy;
use crate::trade::stock::{self, System};
use crate::units::ruler::Ruler;
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

/// What a line of the list is for. Marks are told apart within one of them only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// Boards, rods and tubes, cut for all machines.
    All,
    Loom,
    Spinner,
    Wiring,
}

impl Whose {
    /// All of them, in the order of the list.
    pub const ALL: [Whose; 4] = [Whose::All, Whose::Loom, Whose::Spinner, Whose::Wiring];
    /// Its heading.
    pub fn words(self) -> &'static str {
        match self {
            Whose::All => "Boards, rods and tubes",
            Whose::Loom => "The loom",
            Whose::Spinner => "The spinner",
            Whose::Wiring => "The spinner's wiring",
        }
    }
}

/// A line of the shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    pub whose: Whose,
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
    /// Prices given for a mark that nothing bought has.
    pub astray: Vec<Price>,
}

impl Shopping {
    /// Sum of the prices there are, and how many lines have none.
    pub fn so_far(&self) -> (f64, usize) {
        (self.lines.iter().filter_map(|l| l.price).sum(), self.lines.iter().filter(|l| l.price.is_none()).count())
    }
}

/// What one of a bought part costs.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    pub whose: Whose,
    /// Its mark on the drawing.
    pub mark: String,
    pub price: f64,
}

/// What is to be got for the machines that can be built.
#[derive(Clone, Copy, Debug, Default)]
pub struct Needs<'a> {
    pub loom: &'a [Piece],
    pub spinner: &'a [Piece],
    pub wiring: &'a [Buy],
}

impl Needs<'_> {
    /// What is not sawn, without its price.
    fn bought(&self) -> Vec<Line> {
        let line = |whose: Whose, part: &Piece| {
            let note = if part.note.is_empty() { String::new() } else { format!(": {}", part.note) };
            let of = if part.of.is_empty() { String::new() } else { format!("{}, ", part.of) };
            Line {
                whose,
                mark: part.mark.clone(),
                words: format!("{of}{}{note}", part.name),
                how_many: part.how_many,
                mass: part.mass(density(part)),
                price: None,
            }
        };
        let whole = |parts: &[Piece]| parts.iter().filter(|p| p.length().is_none()).cloned().collect::<Vec<_>>();
        let mut out: Vec<Line> = whole(self.loom).iter().map(|p| line(Whose::Loom, p)).collect();
        out.extend(whole(self.spinner).iter().map(|p| line(Whose::Spinner, p)));
        out.extend(self.wiring.iter().map(|b| Line {
            whose: Whose::Wiring,
            mark: b.mark.clone(),
            words: b.words.clone(),
            how_many: b.how_many,
            mass: Q::si(0.0),
            price: None,
        }));
        out
    }
}

/// What the maker says about buying.
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    pub system: System,
    pub saw: Saw,
    pub offers: Vec<Offer>,
    pub prices: Vec<Price>,
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
pub fn list(needs: &Needs, terms: &Terms) -> Result<Shopping, Refusal> {
    check_money(terms)?;
    let sawn: Vec<&Piece> = needs.loom.iter().chain(needs.spinner).collect();
    let mut jobs: Vec<Job> = Vec::new();
    for (key, pieces) in grouped(&sawn) {
        jobs.push(job(&key, &pieces, terms)?);
    }
    let mut lines: Vec<Line> = jobs.iter().flat_map(board_lines).collect();
    let mut bought = needs.bought();
    let mut astray = Vec::new();
    for given in &terms.prices {
        match bought.iter_mut().find(|l| l.whose == given.whose && l.mark == given.mark) {
            Some(line) => line.price = Some(given.price * f64::from(line.how_many)),
            None => astray.push(given.clone()),
        }
    }
    lines.extend(bought);
    let sum: Option<f64> = lines.iter().map(|l| l.price).sum();
    let total = sum.zip(terms.money.clone());
    Ok(Shopping { jobs, lines, total, money: terms.money.clone(), system: terms.system, astray })
}

fn check_money(terms: &Terms) -> Result<(), Refusal> {
    let priced = terms.prices.iter().map(|p| (p.mark.as_str(), p.price));
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
    wall: Option<f64>,
}

impl Key {
    /// The section as the shop says it, with its true size.
    fn words(&self, ruler: Ruler) -> String {
        let (thick, wide) = self.face;
        if let Some(section) = stock::Section::find(&self.section) {
            return section.words(ruler);
        }
        let kind = self.section.split(' ').next().unwrap_or("");
        match self.wall {
            Some(wall) => format!("{kind} ø {} x {} wall", ruler.says(thick), ruler.says_fine(wall)),
            None if self.round => format!("{kind} ø {}", ruler.says(thick)),
            None => format!("{kind} {} x {}", ruler.bare(thick), ruler.says(wide)),
        }
    }
}

fn grouped<'a>(parts: &[&'a Piece]) -> Vec<(Key, Vec<&'a Piece>)> {
    let mut out: Vec<(Key, Vec<&Piece>)> = Vec::new();
    for part in parts.iter().copied() {
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
            Some(Key { section: name, of: part.of, face: (thick, wide), area: thick * wide, round: false, wall: None })
        }
        Stuff::Rod { diameter: d, .. } => Some(Key {
            section: format!("rod {d:.0}"),
            of: part.of,
            face: (d, d),
            area: quarter * d * d,
            round: true,
            wall: None,
        }),
        Stuff::Tube { diameter: d, wall, .. } => Some(Key {
            section: format!("tube {d:.0} x {wall:.1}"),
            of: part.of,
            face: (d, d),
            area: 4.0 * quarter * wall * (d - wall),
            round: true,
            wall: Some(wall),
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
    Ok(Job {
        title: format!("{}, {}", key.of, key.words(terms.system.ruler())),
        face: key.face,
        pieces,
        stock,
        saw,
        cutting,
        density: density(parts[0]),
        area: key.area,
    })
}

/// A foot, mm.
const FOOT_MM: f64 = 304.8;

/// The lengths on the shelf; what is longer than any sold is asked for at the next half metre or foot.
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
        let step = system.ruler().of(500.0, FOOT_MM);
        let steps = ((longest + 25.0) / step).ceil();
        let length = steps * step;
        let name = system.ruler().of(format!("{:.1} m", length / 1e3), format!("{steps:.0} ft"));
        out.push(Stock { name: format!("{name} (to order)"), length: Q::new(length, &MM), at_most: None, price: None });
    }
    out
}

fn board_lines(job: &Job) -> Vec<Line> {
    (job.stock.iter().enumerate())
        .filter_map(|(i, s)| {
            let n = job.cutting.boards.iter().filter(|b| b.stock == i).count() as u32;
            let kg = f64::from(n) * s.length.get(&MM) * job.area * job.density / 1e6;
            (n > 0).then(|| Line {
                whose: Whose::All,
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
    use crate::machine::spinner;

    fn price(whose: Whose, mark: &str, price: f64) -> Price {
        Price { whose, mark: mark.into(), price }
    }

    /// Both machines of a system, with a fuse for the wiring.
    fn parts(system: System) -> (Vec<Piece>, Vec<Piece>, Vec<Buy>) {
        let loom = loom::design(&loom::LoomWish { system, ..tern_bay() }).unwrap();
        let spinner = spinner::design(&spinner::tests::tern_bay().made_of("beech", system)).unwrap();
        let fuse = Buy { mark: "F1".into(), words: "fuse, 0.5 A".into(), how_many: 1 };
        (loom.parts, spinner.parts, vec![fuse])
    }

    fn bought(system: System, terms: &Terms) -> Result<Shopping, Refusal> {
        let (loom, spinner, wiring) = parts(system);
        list(&Needs { loom: &loom, spinner: &spinner, wiring: &wiring }, terms)
    }

    #[test]
    fn both_machines_are_cut_with_proved_jobs() {
        for system in [System::Metric, System::Inch] {
            let (loom, spinner, _) = parts(system);
            let shopping = bought(system, &Terms::plain(system)).unwrap();
            let sawn: u32 = loom.iter().chain(&spinner).filter(|p| p.length().is_some()).map(|p| p.how_many).sum();
            let cut: usize = shopping.jobs.iter().flat_map(|j| &j.cutting.boards).map(|b| b.cuts.len()).sum();
            assert_eq!(cut as u32, sawn);
            for job in &shopping.jobs {
                assert!(job.cutting.is_proved(), "{}: {} over {}", job.title, job.cutting.cost, job.cutting.least);
            }
            // The spinner's flyer and the loom's shuttle come out of one kind of board.
            let lath = shopping.jobs.iter().find(|j| j.pieces.iter().any(|p| p.mark == "4")).unwrap();
            assert!(lath.pieces.iter().any(|p| p.mark == "G1"), "{}", lath.title);
            assert!(shopping.total.is_none());
        }
    }

    #[test]
    fn a_list_by_the_inch_speaks_of_inches() {
        let shopping = bought(System::Inch, &Terms::plain(System::Inch)).unwrap();
        for line in &shopping.lines {
            assert!(!line.words.contains(" mm"), "{}", line.words);
        }
        assert!(shopping.jobs.iter().any(|j| j.title == "beech, 1x4 (3/4 x 3 1/2 in)"));
    }

    #[test]
    fn prices_need_a_money() {
        let mut terms = Terms::plain(System::Metric);
        terms.prices = vec![price(Whose::Loom, "C4", 2.5)];
        assert!(bought(System::Metric, &terms).unwrap_err().to_string().contains("in no money"));
        terms.money = Some(" ".into());
        assert!(bought(System::Metric, &terms).is_err());
        terms.money = Some("EUR".into());
        assert!(bought(System::Metric, &terms).unwrap().total.is_none(), "boards have no price yet");
        terms.prices.push(price(Whose::Loom, "C4", -1.0));
        assert!(bought(System::Metric, &terms).unwrap_err().to_string().contains("price of"));
    }

    #[test]
    fn a_full_price_list_adds_up() {
        let plain = bought(System::Metric, &Terms::plain(System::Metric)).unwrap();
        let mut terms = Terms::plain(System::Metric);
        terms.money = Some("EUR".into());
        let marked = plain.lines.iter().filter(|l| l.whose != Whose::All);
        terms.prices = marked.map(|l| price(l.whose, &l.mark, 1.0)).collect();
        let (loom, spinner, _) = parts(System::Metric);
        let all: Vec<&Piece> = loom.iter().chain(&spinner).collect();
        for (job, (key, _)) in plain.jobs.iter().zip(grouped(&all)) {
            let stock = job.stock.iter().map(|s| Stock { price: Some(s.length.to_si() * 4.0), ..s.clone() }).collect();
            terms.offers.push(Offer { section: key.section, of: key.of.into(), stock });
        }
        let priced = bought(System::Metric, &terms).unwrap();
        let (sum, money) = priced.total.clone().unwrap();
        assert_eq!(money, "EUR");
        let by_hand: f64 = priced.lines.iter().map(|l| l.price.unwrap()).sum();
        assert!((sum - by_hand).abs() < 1e-9 && sum > 50.0);
        assert_eq!(priced.so_far().1, 0);
        assert!(priced.astray.is_empty());
    }

    /// With some parts priced the sum so far is theirs and the rest is counted; one mark may stand for two things, and a price for
    /// a mark that is not bought goes astray.
    #[test]
    fn some_prices_make_a_sum_so_far() {
        let mut terms = Terms::plain(System::Metric);
        terms.money = Some("EUR".into());
        terms.prices = vec![
            price(Whose::Loom, "D2", 6.0),
            price(Whose::Wiring, "F1", 0.5),
            price(Whose::Spinner, "13", 9.0),
            price(Whose::Spinner, "2", 4.0),
        ];
        let list = bought(System::Metric, &terms).unwrap();
        assert!(list.total.is_none());
        assert_eq!(list.so_far(), (21.5, list.lines.len() - 3), "two heddle sheets at six each, a fuse, a motor");
        assert_eq!(list.astray, [price(Whose::Spinner, "2", 4.0)], "an upright is sawn, not bought");
        assert!(list.lines.iter().any(|l| l.whose == Whose::Loom && l.mark == "F1" && l.price.is_none()));
    }
}
