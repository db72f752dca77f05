//! Which copies are about where: for each column along the cloth and each row across it the set of copies whose boxes reach
//! into it. What a box may touch is the common part of two such sets.

const COLUMNS: usize = 64;
const ROWS: usize = 32;
/// Copies in one word of a set.
const WORD: usize = 64;

#[derive(Clone, Debug)]
pub(super) struct Grid {
    words: usize,
    columns: Vec<u64>,
    rows: Vec<u64>,
    per_x: f32,
    per_y: f32,
    y0: f32,
    /// What was asked last.
    along: Vec<u64>,
    across: Vec<u64>,
}

/// A box: least x, least y, greatest x, greatest y.
pub(super) type Box4 = (f32, f32, f32, f32);

impl Grid {
    /// For `n` copies on a cloth reaching from (0, `y0`) so far along and across.
    pub fn new(n: usize, length: f32, (y0, y1): (f32, f32)) -> Self {
        let words = n.div_ceil(WORD);
        Grid {
            words,
            columns: vec![0; COLUMNS * words],
            rows: vec![0; ROWS * words],
            per_x: COLUMNS as f32 / length,
            per_y: ROWS as f32 / (y1 - y0),
            y0,
            along: vec![0; words],
            across: vec![0; words],
        }
    }

    fn span(from: f32, to: f32, per: f32, cells: usize) -> std::ops::Range<usize> {
        // A cast holds at 0 and at the greatest number, so whatever lies past the rim counts to it.
        let cell = |v: f32| ((v * per) as usize).min(cells - 1);
        cell(from)..cell(to) + 1
    }

    /// Enters copy `i` with its box, or takes it out.
    pub fn mark(&mut self, i: usize, b: Box4, there: bool) {
        let (word, bit) = (i / WORD, 1u64 << (i % WORD));
        let spans = [
            (&mut self.columns, Self::span(b.0, b.2, self.per_x, COLUMNS)),
            (&mut self.rows, Self::span(b.1 - self.y0, b.3 - self.y0, self.per_y, ROWS)),
        ];
        for (sets, span) in spans {
            for cell in span {
                let set = &mut sets[cell * self.words + word];
                *set = if there { *set | bit } else { *set & !bit };
            }
        }
    }

    /// Calls `with` for each copy that may touch the box, in order.
    #[inline]
    pub fn near(&mut self, b: Box4, mut with: impl FnMut(usize)) {
        let columns = Self::span(b.0, b.2, self.per_x, COLUMNS);
        let rows = Self::span(b.1 - self.y0, b.3 - self.y0, self.per_y, ROWS);
        let w = self.words;
        for (sets, out, span) in [(&self.columns, &mut self.along, columns), (&self.rows, &mut self.across, rows)] {
            out.fill(0);
            for set in sets[span.start * w..span.end * w].chunks_exact(w) {
                out.iter_mut().zip(set).for_each(|(o, s)| *o |= s);
            }
        }
        for (word, (a, c)) in self.along.iter().zip(&self.across).enumerate() {
            let mut set = a & c;
            while set != 0 {
                with(word * WORD + set.trailing_zeros() as usize);
                set &= set - 1;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::chance::Chance;

    #[test]
    fn nothing_that_touches_is_missed() {
        let mut chance = Chance::new(7, 0);
        let mut box4 = || {
            let (x, y) = (chance.between(-5.0, 105.0), chance.between(-3.0, 43.0));
            (x, y, x + chance.between(0.0, 30.0), y + chance.between(0.0, 20.0))
        };
        let boxes: Vec<Box4> = (0..150).map(|_| box4()).collect();
        let mut grid = Grid::new(boxes.len(), 100.0, (-0.5, 40.5));
        boxes.iter().enumerate().for_each(|(i, b)| grid.mark(i, *b, true));
        grid.mark(3, boxes[3], false);
        let mut seen_in_all = 0;
        for _ in 0..200 {
            let q = box4();
            let mut seen = Vec::new();
            grid.near(q, |i| seen.push(i));
            seen_in_all += seen.len();
            for (i, b) in boxes.iter().enumerate() {
                let touch = b.0 <= q.2 && b.2 >= q.0 && b.1 <= q.3 && b.3 >= q.1;
                assert!(i != 3 && (!touch || seen.contains(&i)) || (i == 3 && !seen.contains(&3)), "{i}");
            }
        }
        assert!(seen_in_all < 200 * 75, "the grid sorts nothing out: {seen_in_all}");
    }
}
