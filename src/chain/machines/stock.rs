//! The boards, rods and tubes a plan says are to be had, matched to the sections the loom's parts are made of.

use crate::machine::cutting::{Saw, Stock};
use crate::machine::loom::{Piece, Stuff};
use crate::machine::shopping::{Needs, Offer, Price, Terms, Whose};
use crate::plan::{BoughtWish, Plan, StockWish};
use crate::trade::stock::{Section, System};
use crate::units::ruler::Ruler;
use crate::units::show::Style;
use crate::units::{Length, MM, Q};

/// How far a board's true size may lie off a part's section and still be that section, mm: planing and shrinking.
const NEAR: f64 = 1.5;

/// Which shelf the plan's maker buys from.
pub(super) fn system(plan: &Plan) -> System {
    if plan.style() == Style::Inch { System::Inch } else { System::Metric }
}

/// A price for a mark that nothing bought has, in words.
pub(super) fn astray(given: &Price) -> String {
    let machine = if given.whose == Whose::Loom { "loom" } else { "spinner" };
    format!("a price for {} of the {machine}, which is not bought", given.mark)
}

/// Prices of bought parts; a spinner's mark is one of its drawing or of its wiring.
fn prices(plan: &Plan, needs: &Needs) -> Vec<Price> {
    let wired = |mark: &str| needs.wiring.iter().any(|b| b.mark == mark);
    let of = |wish: &BoughtWish| {
        let (mark, price) = (wish.mark.clone()?, wish.price?);
        let whose = match wish.machine {
            "loom" => Whose::Loom,
            _ if wired(&mark) => Whose::Wiring,
            _ => Whose::Spinner,
        };
        Some(Price { whose, mark, price })
    };
    plan.bought().iter().filter_map(of).collect()
}

/// Terms for the shopping list, and the names of stock that fits no part.
pub(super) fn terms(plan: &Plan, needs: &Needs) -> (Terms, Vec<String>) {
    let mut terms = Terms::plain(system(plan));
    if let Some(kerf) = plan.quantity::<Length>("loom.kerf") {
        terms.saw = Saw { kerf: kerf.middle, ..terms.saw };
    }
    let parts: Vec<&Piece> = needs.loom.iter().chain(needs.spinner).collect();
    terms.prices = prices(plan, needs);
    terms.money = plan.text("money").map(String::from);
    let ruler = terms.system.ruler();
    let mut unused = Vec::new();
    for wish in plan.stock() {
        let Some(length) = wish.length.map(|l| l.middle) else { continue };
        let stock = Stock { name: name(wish, length, ruler), length, at_most: wish.how_many, price: wish.price };
        match section(wish, &parts) {
            Some(section) => match terms.offers.iter_mut().find(|o| o.section == section) {
                Some(offer) => offer.stock.push(stock),
                None => terms.offers.push(Offer { section, of: String::new(), stock: vec![stock] }),
            },
            None => unused.push(stock.name),
        }
    }
    (terms, unused)
}

fn name(wish: &StockWish, length: Q<Length>, ruler: Ruler) -> String {
    let long = ruler.says(length.get(&MM));
    wish.name.as_ref().map_or(long.clone(), |n| format!("{n}, {long}"))
}

/// The section, as the cutting list calls it, of the parts this stock could make.
fn section(wish: &StockWish, parts: &[&Piece]) -> Option<String> {
    let shop = wish.name.as_deref().and_then(Section::find);
    let stated = |q: Option<crate::units::text::Stated<Length>>| q.map(|s| s.middle.get(&MM));
    let wide = stated(wish.width).or(shop.map(|s| s.wide))?;
    let thick = stated(wish.thickness).or(shop.map(|s| s.thick));
    let near = |a: f64, b: f64| (a - b).abs() <= NEAR;
    parts.iter().find_map(|p| match (&p.stuff, wish.section) {
        (Stuff::Board { section, thick: t, wide: w, .. }, "board") => {
            let thick = thick?;
            let fits = near(*t, thick) && near(*w, wide) || near(*t, wide) && near(*w, thick);
            let name = if *section == "square" { format!("square {t:.0}") } else { section.to_string() };
            fits.then_some(name)
        }
        (Stuff::Rod { diameter, .. }, "dowel") => near(*diameter, wide).then(|| format!("rod {diameter:.0}")),
        (Stuff::Tube { diameter, wall, .. }, "tube") => {
            near(*diameter, wide).then(|| format!("tube {diameter:.0} x {wall:.1}"))
        }
        _ => None,
    })
}
