//! The spinner's wiring: the diagram, and beside it what was tried, what to buy and how thick the wire.

use kurbo::{Point, Rect, Vec2};

use super::circuit::{self as c, By, TALL};
use crate::draw::caution::{self, Hazard};
use crate::draw::sheet::{Anchor, Draw, Line, Sheet, Type};
use crate::draw::table::{Align, Column, Table};
use crate::draw::text;
use crate::draw::title::{self, MARGIN, Paper};
use crate::machine::netlist::Runs;
use crate::machine::netlist::control::Turning;
use crate::machine::netlist::sizes::{Buy, Sizes};
use crate::machine::netlist::truth::{Harm, Truth};
use crate::units::ruler::Ruler;
use crate::units::{AMP, Q, VOLT, Voltage};

/// What the diagram prints.
#[derive(Clone, Debug)]
pub struct Wiring<'a> {
    pub turning: Turning,
    pub truth: &'a Truth,
    pub sizes: &'a Sizes,
    pub buy: &'a [Buy],
    pub voltage: Q<Voltage>,
    /// Setting of the slow relay, seconds.
    pub wait: f64,
    /// Whether wire is called by its area or by its American gauge.
    pub ruler: Ruler,
}

impl Wiring<'_> {
    /// The wire as the shop of this plan calls it first.
    fn wire(&self) -> String {
        let area = self.sizes.wire.name.replace("mm2", "mm²");
        match self.sizes.awg {
            Some(gauge) => self.ruler.of(format!("{area} (AWG {gauge})"), format!("AWG {gauge} ({area})")),
            None => area,
        }
    }
}

/// Diagram, proof and shopping list.
pub fn sheets(w: &Wiring) -> Vec<Sheet> {
    vec![diagram(w), proof(w), list(w)]
}

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// The diagram, A4 on its side.
pub fn diagram(w: &Wiring) -> Sheet {
    let describe = "Wiring diagram of the spinner: supply, fuse, stop, relays, speed control, motor; below it the control circuit.";
    let mut s = Sheet::new("wiring", "The spinner's wiring", describe, 297.0, 210.0);
    let lead = format!(
        "{:.0} V direct current. Numbers on wires are wire numbers: put them on both ends. All contacts drawn at rest.",
        w.voltage.get(&VOLT)
    );
    let top = title::head(&mut s, &lead);
    power(&mut s, top + 2.0, w);
    control(&mut s, top + 2.0, w);
    let words = [
        format!("F1 {} A time-lag. Wire {}.", w.sizes.fuse.get(&AMP), w.wire()),
        format!("K4 keeps its time without supply; set it to {:.0} s.", w.wait),
    ];
    for (i, line) in words.iter().enumerate() {
        s.words(Type::Small, Anchor::Start, (MARGIN, 151.0 + 4.4 * i as f64), line.as_str());
    }
    caution::draw(&mut s, (MARGIN, 158.0), 277.0, &[Hazard::Mains, Hazard::Current]);
    title::foot(&mut s, "Symbols in the style of IEC 60617. Checked for the faults listed on the next page only.");
    s
}

/// Supply to motor, left half.
fn power(s: &mut Sheet, y: f64, w: &Wiring) {
    let (x, right) = (MARGIN + 46.0, MARGIN + 86.0);
    let bottom = y + 106.0;
    c::block(s, Rect::new(MARGIN, y + 8.0, MARGIN + 22.0, y + 30.0), &["G1", "bought", "supply"]);
    c::thick(s, &[p(MARGIN + 22.0, y + 12.0), p(x, y + 12.0)]);
    c::number(s, p(MARGIN + 24.0, y + 12.0), "1");
    s.words(Type::Figure, Anchor::End, (MARGIN + 21.0, y + 13.0), "+");
    c::thick(s, &[p(MARGIN + 22.0, y + 26.0), p(MARGIN + 26.0, y + 26.0), p(MARGIN + 26.0, bottom), p(x, bottom)]);
    s.words(Type::Figure, Anchor::End, (MARGIN + 21.0, y + 27.0), "−");
    c::number(s, p(MARGIN + 28.0, bottom), "0");
    let mut at = p(x, y + 12.0);
    c::mark(s, at, 3.5, "F1");
    at = c::fuse(s, at);
    c::node(s, at);
    c::number(s, at, "2");
    c::mark(s, at, 10.5, "S1");
    at = c::breaks(s, at, By::Stop);
    c::node(s, at);
    c::number(s, at, "3");
    c::mark(s, at, 5.0, "K1");
    at = c::make(s, at, By::Relay);
    c::node(s, at);
    c::number(s, at, "4");
    c::mark(s, at, 5.0, "K2");
    at = c::make(s, at, By::Relay);
    c::number(s, at, "5");
    match w.turning {
        Turning::Relay => by_relay(s, at, right, bottom),
        Turning::Bridge => by_bridge(s, at, right, bottom),
    }
    c::earth(s, p(MARGIN + 8.0, bottom - 16.0));
    c::number(s, p(MARGIN + 8.0, bottom - 15.0), "E");
    s.words(Type::Strong, Anchor::Start, (MARGIN, bottom - 18.0), "E1");
    s.words(Type::Note, Anchor::Start, (MARGIN, bottom - 4.6), "bare metal joined,");
    s.words(Type::Note, Anchor::Start, (MARGIN, bottom - 1.2), "not to minus");
}

fn by_relay(s: &mut Sheet, at: Point, right: f64, bottom: f64) {
    let a1 = Rect::new(at.x - 4.0, at.y + 4.0, at.x + 26.0, at.y + 18.0);
    c::thick(s, &[at, p(at.x, a1.y0)]);
    c::block(s, a1, &["A1 speed control", "enable: wire 8"]);
    c::thick(s, &[p(at.x, a1.y1), p(at.x, bottom)]);
    c::node(s, p(at.x, bottom));
    // Out plus on wire 12, out minus on wire 13, up to the turn relay at the right.
    let plus = right + 2.0;
    let level = at.y - 34.0;
    c::thick(s, &[p(a1.x1, a1.y0 + 4.0), p(plus - 8.0, a1.y0 + 4.0), p(plus - 8.0, level), p(plus + 23.0, level)]);
    c::number(s, p(a1.x1, a1.y0 + 4.0), "12");
    c::thick(
        s,
        &[p(a1.x1, a1.y1 - 4.0), p(plus - 5.0, a1.y1 - 4.0), p(plus - 5.0, level + 6.0), p(plus + 13.0, level + 6.0)],
    );
    c::number(s, p(a1.x1, a1.y1 - 4.0), "13");
    let diode = p(plus - 1.0, level);
    let low = c::diode_up(s, diode);
    s.words(Type::Strong, Anchor::Start, (diode.x + 2.8, diode.y + 12.4), "V5");
    c::node(s, diode);
    // The diode's foot meets wire 13.
    c::wire(s, &[low, p(low.x, level + 18.0), p(plus - 5.0, level + 18.0)]);
    c::node(s, p(plus - 5.0, level + 18.0));
    let y = level + 22.0;
    let (ma, ra, ca) = c::over(s, p(plus + 13.0, y), By::Relay);
    let (mb, rb, cb) = c::over(s, p(plus + 33.0, y), By::Relay);
    s.words(Type::Strong, Anchor::End, (ma.x - 1.0, y + 9.5), "K3");
    s.words(Type::Strong, Anchor::Start, (rb.x + 1.0, y + 9.5), "K3");
    // a rests on plus and moves to minus; b the other way round.
    c::thick(s, &[ra, p(ra.x, level), p(plus + 23.0, level), p(mb.x, level), mb]);
    c::thick(s, &[ma, p(ma.x, level + 6.0), p(rb.x, level + 6.0), rb]);
    c::node(s, p(ra.x, level));
    c::node(s, p(ma.x, level + 6.0));
    motor(s, ca, cb);
}

fn motor(s: &mut Sheet, a: Point, b: Point) {
    let middle = p((a.x + b.x) / 2.0, a.y + 13.0);
    let (left, right) = c::motor(s, middle);
    c::thick(s, &[a, p(a.x, left.y), left]);
    c::thick(s, &[b, p(b.x, right.y), right]);
    c::number(s, p(a.x, a.y + 6.0), "14");
    c::number(s, p(b.x, b.y + 6.0), "15");
    s.words(Type::Strong, Anchor::Middle, (middle.x, middle.y - 7.2), "M1");
    let low = middle.y + 10.0;
    c::node(s, p(a.x, left.y));
    c::node(s, p(b.x, right.y));
    c::wire(s, &[p(a.x, left.y), p(a.x, low)]);
    c::wire(s, &[p(b.x, right.y), p(b.x, low)]);
    c::capacitor_level(s, p(a.x, low), b.x - a.x);
    s.words(Type::Strong, Anchor::Middle, (middle.x, low + 6.0), "C1");
}

fn by_bridge(s: &mut Sheet, at: Point, right: f64, bottom: f64) {
    let a1 = Rect::new(at.x - 4.0, at.y + 4.0, at.x + 30.0, at.y + 22.0);
    c::thick(s, &[at, p(at.x, a1.y0)]);
    c::block(s, a1, &["A1 H-bridge", "enable: wire 8", "direction: wire 10"]);
    c::thick(s, &[p(at.x, a1.y1), p(at.x, bottom)]);
    c::node(s, p(at.x, bottom));
    let top = at.y - 34.0;
    let (a, b) = (p(right + 12.0, top), p(right + 34.0, top));
    c::thick(s, &[p(a1.x1, a1.y0 + 5.0), p(a1.x1 + 8.0, a1.y0 + 5.0), p(a1.x1 + 8.0, top - 4.0), p(a.x, top - 4.0), a]);
    c::thick(
        s,
        &[p(a1.x1, a1.y1 - 5.0), p(a1.x1 + 12.0, a1.y1 - 5.0), p(a1.x1 + 12.0, top - 10.0), p(b.x, top - 10.0), b],
    );
    motor(s, a, b);
}

/// Control circuit, right half: from wire 3 or 4 down to wire 0.
fn control(s: &mut Sheet, y: f64, w: &Wiring) {
    let (x, rail, floor) = (MARGIN + 149.0, y + 12.0, y + 106.0);
    let columns = [x, x + 41.0, x + 75.0, x + 108.0];
    c::wire(s, &[p(x - 10.0, floor), p(x + 121.0, floor)]);
    c::number(s, p(x - 10.0, floor), "0");
    for (i, column) in columns.iter().enumerate() {
        s.words(Type::Note, Anchor::Middle, (*column, y + 4.0), format!("{}", i + 1));
    }
    let coils = floor - TALL - 4.0;
    start(s, columns[0], rail, coils, floor);
    pedal(s, columns[1], rail, coils, floor);
    go(s, columns[1], columns[2], rail, coils, floor);
    turn(s, columns[3], rail, coils, floor, w.turning);
}

/// A coil with its diode between `at` and the minus rail.
fn coil(s: &mut Sheet, at: Point, floor: f64, marks: (&str, &str), slow: bool) {
    let end = c::coil(s, at, slow);
    c::wire(s, &[end, p(end.x, floor)]);
    c::node(s, p(end.x, floor));
    let side = at + Vec2::new(10.0, 0.0);
    c::wire(s, &[at, side]);
    let low = c::diode_up(s, side);
    c::wire(s, &[low, p(low.x, floor)]);
    c::node(s, at);
    c::node(s, p(low.x, floor));
    s.words(Type::Strong, Anchor::End, (at.x - 6.0, at.y + TALL / 2.0 + 1.2), marks.0);
    s.words(Type::Strong, Anchor::Start, (side.x + 2.8, at.y + TALL / 2.0 + 1.2), marks.1);
}

fn start(s: &mut Sheet, x: f64, rail: f64, coils: f64, floor: f64) {
    let top = p(x, rail);
    c::wire(s, &[p(x - 12.0, rail), p(x + 12.0, rail)]);
    c::number(s, p(x - 12.0, rail), "3");
    c::mark(s, top, 9.5, "K4");
    let ready = c::breaks(s, top, By::SlowRelay);
    c::number(s, ready, "16");
    c::mark(s, ready, 11.5, "S2");
    let hold = c::make(s, ready, By::Push);
    // K1 holds itself beside the start button, straight from wire 3.
    let side = p(x + 12.0, rail);
    let at = p(side.x, rail + TALL * 0.5);
    c::wire(s, &[side, at]);
    let low = c::make(s, at, By::Relay);
    s.words(Type::Strong, Anchor::Start, (at.x + 1.6, at.y + TALL / 2.0 + 1.2), "K1");
    c::wire(s, &[low, p(low.x, hold.y + 3.0), p(x, hold.y + 3.0)]);
    c::wire(s, &[hold, p(x, coils)]);
    c::node(s, p(x, hold.y + 3.0));
    c::number(s, p(x, hold.y + 10.0), "6");
    coil(s, p(x, coils), floor, ("K1", "V1"), false);
    s.words(Type::Note, Anchor::Start, (x - 12.0, rail - 5.0), "start");
}

fn pedal(s: &mut Sheet, x: f64, rail: f64, coils: f64, floor: f64) {
    let top = p(x, rail);
    c::wire(s, &[p(x - 8.0, rail), top]);
    c::number(s, p(x - 8.0, rail), "4");
    s.words(Type::Note, Anchor::Start, (x - 8.0, rail - 5.0), "pedal");
    // Plug and socket, three contacts: the pedal's two wires and bonding.
    let plug = Rect::new(x - 20.0, rail + 3.0, x + 5.0, rail + TALL + 11.0);
    s.rect(Line::Hidden, plug);
    s.words(Type::Strong, Anchor::Start, (plug.x0 + 0.8, plug.y1 - 1.4), "X1");
    c::wire(s, &[top, p(x, rail + 5.0)]);
    c::mark(s, p(x, rail + 5.0), 12.0, "S3");
    let end = c::make(s, p(x, rail + 5.0), By::Pedal);
    c::wire(s, &[end, p(x, coils)]);
    c::number(s, p(x, end.y + 12.0), "7");
    c::node(s, p(x, end.y + 14.0));
    coil(s, p(x, coils), floor, ("K4", "V4"), true);
}

fn go(s: &mut Sheet, from: f64, x: f64, rail: f64, coils: f64, floor: f64) {
    let level = rail + 5.0 + TALL + 14.0;
    c::wire(s, &[p(from, level), p(x, level)]);
    c::mark(s, p(x, level), 9.5, "K4");
    let end = c::make(s, p(x, level), By::SlowRelay);
    c::wire(s, &[end, p(x, coils)]);
    c::number(s, p(x, end.y + 6.0), "8");
    c::node(s, p(x, end.y + 8.0));
    c::wire(s, &[p(x, end.y + 8.0), p(x + 9.0, end.y + 8.0)]);
    s.words(Type::Note, Anchor::Start, (x + 10.0, end.y + 8.9), "to A1");
    s.words(Type::Note, Anchor::Start, (x + 10.0, end.y + 12.1), "enable");
    coil(s, p(x, coils), floor, ("K2", "V2"), false);
    s.words(Type::Note, Anchor::Start, (x - 4.0, level - 2.5), "go");
}

fn turn(s: &mut Sheet, x: f64, rail: f64, coils: f64, floor: f64, turning: Turning) {
    s.words(Type::Note, Anchor::Start, (x - 8.0, rail - 5.0), "direction");
    c::wire(s, &[p(x - 8.0, rail), p(x, rail)]);
    c::number(s, p(x - 8.0, rail), "2");
    // The change-over hangs the other way up: its common pin above.
    let common = p(x, rail);
    let (rest, moved) = (p(x - 8.0, rail + TALL), p(x + 8.0, rail + TALL));
    s.line(Line::Outline, common, p(x, rail + 3.5));
    s.line(Line::Outline, p(x, rail + 3.5), p(x - 4.0, rail + 10.8));
    s.trace(Line::Outline, [rest, p(rest.x, rail + 9.8), p(rest.x + 5.2, rail + 9.8)]);
    s.trace(Line::Outline, [moved, p(moved.x, rail + 9.8), p(moved.x - 3.6, rail + 9.8)]);
    s.words(Type::Strong, Anchor::Start, (x + 4.0, rail + 6.5), "K4");
    c::number(s, p(rest.x, rest.y + 3.5), "9");
    c::number(s, p(moved.x, moved.y + 3.5), "11");
    c::mark(s, p(rest.x, rest.y + 4.0), 11.5, "S4");
    c::wire(s, &[rest, p(rest.x, rest.y + 4.0)]);
    let a = c::make(s, p(rest.x, rest.y + 4.0), By::Turn);
    c::wire(s, &[moved, p(moved.x, moved.y + 4.0)]);
    let b = c::make(s, p(moved.x, moved.y + 4.0), By::Relay);
    s.words(Type::Strong, Anchor::Start, (moved.x + 1.6, b.y - 5.5), "K3");
    let join = a.y + 4.0;
    c::wire(s, &[a, p(a.x, join), p(b.x, join), b]);
    c::wire(s, &[p(x, join), p(x, coils)]);
    c::node(s, p(x, join));
    c::number(s, p(x, join + 6.0), "10");
    if turning == Turning::Bridge {
        c::node(s, p(x, join + 8.0));
        c::wire(s, &[p(x, join + 8.0), p(x + 7.0, join + 8.0)]);
        s.words(Type::Note, Anchor::Start, (x + 8.0, join + 9.0), "to A1");
        s.words(Type::Note, Anchor::Start, (x + 8.0, join + 12.2), "direction");
    }
    coil(s, p(x, coils), floor, ("K3", "V3"), false);
}

/// What was tried.
fn proof(w: &Wiring) -> Sheet {
    let describe = "Truth table of the circuit and what single faults lead to.";
    let mut s =
        title::page(Paper::A4, "wiring-proof", "What the circuit does, and what it does when a part fails", describe);
    let y = title::head(&mut s, &w.truth.words());
    let y = truth_table(&mut s, y, w.truth) + 6.0;
    s.words(Type::Strong, Anchor::Start, (MARGIN, y), "One fault at a time");
    let mut table =
        Table::new(vec![Column::new("fault", 92.0, Align::Start), Column::new("leads to", 98.0, Align::Start)]);
    let quiet = w.truth.findings.iter().filter(|f| f.harms.is_empty()).count();
    for f in w.truth.findings.iter().filter(|f| !f.harms.is_empty()) {
        table.row([f.words.clone(), f.harms.iter().map(|h: &Harm| h.words()).collect::<Vec<_>>().join("; ")]);
    }
    table.total([format!("{quiet} other faults"), "no harm: it stops, or does not start".to_string()]);
    let y = table.draw(&mut s, (MARGIN, y + 2.0)) + 4.0;
    let says = "Taken as true: one fault at a time; a contact in flight lands before another relay leaves; a push on the stop lasts until the relays have dropped; the slow relay waits longer than the flyer runs on. Wrong wiring, two faults together, heat and damp are not covered: pull each wire, measure plus against minus with the fuse out, try stop and pedal before the belt goes on.";
    let wide = s.width - 2.0 * MARGIN;
    let y = text::paragraph(&mut s, Type::Small, (MARGIN, y), wide, says) + 3.0;
    if y + caution::height(wide, &[Hazard::Current]) < s.height - MARGIN - title::FOOT {
        caution::draw(&mut s, (MARGIN, y), wide, &[Hazard::Current]);
    }
    title::foot(&mut s, "Checked for these faults only.");
    s
}

fn truth_table(s: &mut Sheet, y: f64, truth: &Truth) -> f64 {
    let heads = ["stop", "started", "pedal", "direction", "K1 run", "K2 go", "K3 turn", "K4 wait", "motor", "short"];
    let mut table = Table::new(heads.iter().map(|h| Column::new(h, 19.0, Align::Middle)).collect());
    let dot = |on: bool| if on { "●" } else { "–" };
    for r in &truth.table {
        table.row([
            if r.stop_pushed { "pushed" } else { "–" },
            if r.started { "yes" } else { "–" },
            if r.pedal_down { "down" } else { "–" },
            if r.direction_s { "S" } else { "Z" },
            dot(r.relays[0]),
            dot(r.relays[1]),
            dot(r.relays[2]),
            dot(r.relays[3]),
            match r.runs {
                Runs::Still => "still",
                Runs::Z => "Z",
                Runs::S => "S",
            },
            if r.short { "SHORT" } else { "no" },
        ]);
    }
    table.draw(s, (MARGIN, y))
}

/// What to buy, how thick the wire.
fn list(w: &Wiring) -> Sheet {
    let describe = "Electrical parts to buy, fuse and wire size.";
    let mut s = title::page(Paper::A4, "wiring-parts", "Electrical parts to buy", describe);
    let y = title::head(&mut s, "Extra-low voltage only. The supply is bought closed and stays closed.");
    let mut table = Table::new(vec![
        Column::new("mark", 16.0, Align::Start),
        Column::new("what to ask for", 154.0, Align::Start),
        Column::new("how many", 20.0, Align::Point),
    ]);
    for b in w.buy {
        table.row([b.mark.clone(), b.words.clone(), b.how_many.to_string()]);
    }
    let mut y = table.draw(&mut s, (MARGIN, y)) + 6.0;
    let wide = s.width - 2.0 * MARGIN;
    let mut lines = vec![
        capital(&w.sizes.why) + ".",
        format!(
            "Wire {}: carries {:.1} A for good, loses {:.2} V in the leads at work.",
            w.wire(),
            w.sizes.wire.carries,
            w.sizes.drop.get(&VOLT)
        ),
    ];
    lines.extend(w.sizes.cautions.iter().cloned());
    for line in lines {
        y = text::paragraph(&mut s, Type::Body, (MARGIN, y), wide, &line) + 1.2;
    }
    caution::draw(&mut s, (MARGIN, y + 3.0), wide, &[Hazard::Mains, Hazard::Current]);
    title::foot(&mut s, "");
    s
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::machine::netlist::{control, sizes, truth};
    use crate::units::M;

    /// Every part's mark and every wire's number of the circuit that was tried stands on the diagram.
    #[test]
    fn the_diagram_shows_the_circuit_that_was_tried() {
        for turning in [Turning::Relay, Turning::Bridge] {
            let net = control::spinner(turning);
            let tried = truth::try_all(&net);
            let load = sizes::Load {
                voltage: Q::new(16.0, &VOLT),
                supply: Q::new(3.5, &AMP),
                working: Q::new(0.41, &AMP),
                stall: Q::new(3.2, &AMP),
                stall_hot: Q::new(2.7, &AMP),
                lead: Q::new(1.5, &M),
            };
            let sized = sizes::choose(&load).unwrap();
            let buy = sizes::buy(&net, &load, &sized);
            let wiring = Wiring {
                turning,
                truth: &tried,
                sizes: &sized,
                buy: &buy,
                voltage: load.voltage,
                wait: 4.0,
                ruler: Ruler::default(),
            };
            let all = sheets(&wiring);
            let mut words = Vec::new();
            extent::walk(&all[0].items, &mut |seen| {
                if let extent::Seen::Words { text, .. } = seen {
                    words.push(text.to_string());
                }
            });
            let shows = |what: &str| words.iter().any(|w| w.split([' ', ':', ',']).any(|x| x == what));
            for part in &net.parts {
                assert!(shows(&part.mark), "{turning:?}: {} is not drawn", part.mark);
            }
            for name in &net.nets {
                assert!(shows(name), "{turning:?}: wire {name} is not drawn");
            }
            for sheet in &all {
                let e = extent::of(&sheet.items).unwrap();
                assert!(
                    e.x0 > 4.0 && e.y0 > 4.0 && e.x1 < sheet.width - 4.0 && e.y1 < sheet.height - 4.0,
                    "{} {e:?}",
                    sheet.name
                );
            }
        }
    }
}
