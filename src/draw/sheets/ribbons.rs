//! The cloth as a line drawing for a small repeat: every yarn a rounded ribbon with its twist, over and under as woven, at a
//! round scale. Sharp at any size, where the pictures in pixels are not. Takes the look of a cloth.

use kurbo::{Affine, Point, Rect, Shape};

use crate::draw::picture::{ClothLook, Hand, Unseen, YarnLook};
use crate::draw::sheet::{Draw, Fill, Item, Line, Sheet};
use crate::draw::title::{self, FOOT, MARGIN};

/// Most threads drawn each way.
pub const MOST: usize = 32;
/// Scales it is drawn at.
const SCALES: [f64; 14] = [200.0, 150.0, 100.0, 80.0, 60.0, 50.0, 40.0, 30.0, 25.0, 20.0, 15.0, 10.0, 5.0, 2.0];
/// Side of the drawing, at most.
const SIDE: f64 = 176.0;
/// Bands across a ribbon: how far from its middle each reaches, and how light it is. Light comes from above left.
const BANDS: [(f64, f64); 6] = [(1.0, 0.50), (0.93, 0.68), (0.80, 0.84), (0.60, 0.95), (0.34, 1.03), (0.12, 1.08)];

/// One repeat or, of a small one, as many as make a picture; at most [`MOST`] threads each way.
pub fn sheet(look: &ClothLook, name: &str) -> Result<Sheet, Unseen> {
    look.check()?;
    let times = |n: usize| if n >= 8 { n.min(MOST) } else { n * 8usize.div_ceil(n) };
    let (ends, picks) = (times(look.drawdown.ends()), times(look.drawdown.picks()));
    let (wide, high) = (ends as f64 * look.end_spacing, picks as f64 * look.pick_spacing);
    let scale = SCALES.into_iter().find(|s| s * wide.max(high) <= SIDE).unwrap_or(SIDE / wide.max(high));
    let describe = format!("{ends} ends and {picks} picks drawn as yarns, {name}");
    let mut sheet = Sheet::new("ribbons", "How the yarns lie", &describe, 210.0, 100.0);
    sheet.scale = Some(scale);
    let top = title::head(
        &mut sheet,
        &format!("{name}. The face; the warp runs up the sheet, the first pick is at the bottom."),
    );
    let left = (sheet.width - wide * scale) / 2.0;
    let frame = Rect::new(left, top, left + wide * scale, top + high * scale);
    let weaving = Weaving { look, scale, frame, ends, picks };
    sheet.group("cloth", Some(name), Affine::IDENTITY, |g| weaving.draw(g));
    sheet.rect(Line::Detail, frame);
    sheet.height = frame.y1 + 6.0 + FOOT + MARGIN;
    title::foot(&mut sheet, "");
    Ok(sheet)
}

struct Weaving<'a> {
    look: &'a ClothLook,
    scale: f64,
    frame: Rect,
    ends: usize,
    picks: usize,
}

/// A stretch of one yarn: from, to along it, its middle across, half its width; paper millimetres.
struct Stretch<'a> {
    yarn: &'a YarnLook,
    rgb: [u8; 3],
    from: f64,
    to: f64,
    middle: f64,
    half: f64,
    down: bool,
    /// 1 in full light, less in the shade.
    light: f64,
}

impl Weaving<'_> {
    fn draw(&self, g: &mut Vec<Item>) {
        g.area(Fill::Rgb(62, 56, 52), None, self.frame.to_path(0.1));
        for end in 0..self.ends {
            self.stretch(true, end, self.frame.y0, self.frame.y1).ribbon(g, self.scale);
        }
        for pick in 0..self.picks {
            self.stretch(false, pick, self.frame.x0, self.frame.x1).ribbon(g, self.scale);
        }
        let up = |end: usize, pick: usize| self.look.drawdown.warp_up(end, pick);
        for end in 0..self.ends {
            let mut pick = 0;
            while pick < self.picks {
                let first = pick;
                while pick < self.picks && up(end, pick) {
                    pick += 1;
                }
                if pick > first {
                    self.over(g, end, (first, pick - 1));
                }
                pick += 1;
            }
        }
    }

    fn pick_middle(&self, pick: usize) -> f64 {
        self.frame.y1 - (pick as f64 + 0.5) * self.look.pick_spacing * self.scale
    }

    fn stretch(&self, down: bool, thread: usize, from: f64, to: f64) -> Stretch<'_> {
        let (yarn, order) =
            if down { (&self.look.warp, &self.look.warp_order) } else { (&self.look.weft, &self.look.weft_order) };
        let middle = match down {
            true => self.frame.x0 + (thread as f64 + 0.5) * self.look.end_spacing * self.scale,
            false => self.pick_middle(thread),
        };
        let rgb = self.look.colours.get(order.at(thread)).copied().unwrap_or([230, 220, 200]);
        Stretch { yarn, rgb, from, to, middle, half: yarn.diameter * self.scale / 2.0, down, light: 1.0 }
    }

    /// The end where it lies over some picks, as far as the middle of the gaps beside them, with its shade on them.
    fn over(&self, g: &mut Vec<Item>, end: usize, (first, last): (usize, usize)) {
        let half = self.look.pick_spacing * self.scale / 2.0;
        let top = (self.pick_middle(last) - half).max(self.frame.y0);
        let bottom = (self.pick_middle(first) + half).min(self.frame.y1);
        let over = self.stretch(true, end, top, bottom);
        for pick in first..=last {
            for (grow, light) in [(1.5, 0.90), (1.32, 0.78), (1.16, 0.62)] {
                let reach = over.half * grow;
                let (from, to) = ((over.middle - reach).max(self.frame.x0), (over.middle + reach).min(self.frame.x1));
                Stretch { light, ..self.stretch(false, pick, from, to) }.bands(g);
            }
        }
        over.ribbon(g, self.scale);
    }
}

impl Stretch<'_> {
    fn ink(&self, light: f64) -> Fill {
        let [r, g, b] = self.rgb.map(|c| (f64::from(c) * light * self.light).round().clamp(0.0, 255.0) as u8);
        Fill::Rgb(r, g, b)
    }

    fn place(&self, along: f64, across: f64) -> Point {
        if self.down { Point::new(self.middle + across, along) } else { Point::new(along, self.middle + across) }
    }

    fn ribbon(&self, g: &mut Vec<Item>, scale: f64) {
        self.bands(g);
        self.twist(g, scale);
    }

    fn bands(&self, g: &mut Vec<Item>) {
        for (reach, light) in BANDS {
            // The lighter a band, the nearer to the lamp.
            let (a, b) = (-self.half * reach, self.half * (reach - 0.30 * (1.0 - reach)));
            let corners =
                [self.place(self.from, a), self.place(self.to, a), self.place(self.to, b), self.place(self.from, b)];
            g.polygon(self.ink(light), None, corners);
        }
    }

    /// The fibres' slope: slim dark lines that lean as the twist does.
    fn twist(&self, g: &mut Vec<Item>, scale: f64) {
        let turns = self.yarn.twist / 1000.0 / scale;
        if turns <= 0.0 {
            return;
        }
        // A dozen lines to a turn, but never closer than the eye parts.
        let apart = (1.0 / (12.0 * turns)).max(1.1);
        let rise = (self.half * 2.0 / (std::f64::consts::TAU * self.half * turns)).min(6.0 * self.half);
        // On a yarn that runs down the paper a Z fibre goes up to the right; on one that runs across, down to the right.
        let sense = if (self.yarn.hand == Hand::Z) == self.down { -1.0 } else { 1.0 };
        let first = (self.from / apart).floor() as i64;
        let last = (self.to / apart).ceil() as i64;
        for n in first..=last {
            let at = n as f64 * apart;
            let points: Vec<(f64, f64)> = (-2..=2)
                .map(|i| (at + sense * rise / 2.0 * f64::from(i) / 2.0, self.half * 0.92 * f64::from(i) / 2.0))
                .collect();
            if points.iter().any(|(along, _)| *along < self.from || *along > self.to) {
                continue;
            }
            // Lens-shaped: nothing at the edges of the yarn.
            let thick = |across: f64| 0.075 * self.half * (1.0 - (across / self.half) * (across / self.half));
            let edge = |side: f64| points.iter().map(move |&(along, across)| (along + side * thick(across), across));
            let outline: Vec<Point> =
                edge(-1.0).chain(edge(1.0).rev()).map(|(along, across)| self.place(along, across)).collect();
            g.polygon(self.ink(0.78), None, outline);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::extent;
    use crate::weave::{ColourOrder, Weave};

    #[test]
    fn every_crossing_of_the_repeat_is_drawn() {
        for (weave, ups) in [("plain", 32), ("twill 2/2", 32), ("satin 5/2", 80)] {
            let yarn = YarnLook::cotton(0.3, 0.0, Hand::Z);
            let look = ClothLook {
                warp: yarn.clone(),
                weft: yarn,
                end_spacing: 0.6,
                pick_spacing: 0.6,
                warp_height: 0.3,
                weft_height: 0.3,
                drawdown: Weave::parse(weave).unwrap().repeat(),
                colours: vec![[200, 200, 200]],
                warp_order: ColourOrder::plain(0),
                weft_order: ColourOrder::plain(0),
                straying: 0.0,
                seed: 1,
            };
            let sheet = sheet(&look, weave).unwrap();
            // The deepest shade of an end on a pick: half light, 0.62 of it.
            let mut shades = 0;
            extent::walk(&sheet.items, &mut |seen| {
                if let extent::Seen::Path { fill: Some(Fill::Rgb(62, 62, 62)), .. } = seen {
                    shades += 1;
                }
            });
            assert_eq!(shades, ups, "{weave}");
            let e = extent::of(&sheet.items).unwrap();
            assert!(e.x1 < sheet.width - 5.0 && e.y1 < sheet.height - 5.0);
        }
    }
}
