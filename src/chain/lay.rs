//! The lay as the chain reads it: a table of finished width against length. The pieces were laid once, when the plan was decided; a trial
//! looks up, and never lays again. Between two widths the narrower row holds, since a layout needs its whole width.

use super::given::Given;
use super::keys as id;
use crate::units::{Area, Length, Q};

/// What all articles take on cloth of one width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Finished width.
    pub width: Q<Length>,
    /// Finished length.
    pub length: Q<Length>,
    /// The pieces themselves, seams included; narrow cloth adds seams.
    pub area: Q<Area>,
    pub seams: Q<Length>,
    pub widest: Q<Length>,
    /// Of the length, what matching the stripes costs; none where they are not matched.
    pub for_match: Option<Q<Length>>,
}

/// Seams that differ by less than this ratio are the same seams.
pub const SAME_SEAMS: f64 = 1.02;

/// Widths tried, narrowest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    rows: Vec<Row>,
}

impl Row {
    /// Puts what the chain needs of it among the numbers it starts from.
    pub fn state(&self, given: &mut Given) {
        given.set(&id::LAY_LENGTH, self.length);
        given.set(&id::GARMENT_AREA, self.area);
        given.set(&id::SEAM_LENGTH, self.seams);
        given.set(&id::WIDEST_PIECE, self.widest);
        if let Some(more) = self.for_match {
            given.set(&id::MATCH_EXTRA, more);
        }
    }
}

impl Table {
    /// A table of rows in any order.
    pub fn new(mut rows: Vec<Row>) -> Self {
        rows.sort_by(|a, b| a.width.to_si().total_cmp(&b.width.to_si()));
        Table { rows }
    }
    /// All rows, narrowest first.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }
    /// The shortest lay of those no wider than the cloth; of equals the narrowest. On cloth narrower than any, the narrowest row, whose
    /// widest piece then does not fit: a check says so.
    pub fn at(&self, width: Q<Length>) -> Option<&Row> {
        // a width that went through a division and back may have lost its last bits
        let fits = |row: &&Row| row.width.to_si() <= width.to_si() * (1.0 + 1e-9);
        let shortest = |a: &&Row, b: &&Row| a.length.to_si().total_cmp(&b.length.to_si());
        self.rows.iter().filter(fits).min_by(shortest).or(self.rows.first())
    }
    /// The width up to `greatest` that wastes least, the loom's waste counted at each end; the narrowest where none fits. A seam across a
    /// front is work, and it shows, so pieces are split only where the loom is too narrow for whole ones: of the widths with the fewest
    /// seams the one with the least cloth.
    pub fn least(&self, greatest: Q<Length>, waste: Q<Length>) -> Option<&Row> {
        let cloth = |row: &Row| row.width.to_si() * (row.length.to_si() + waste.to_si());
        let fits = || self.rows.iter().filter(|row| row.width.to_si() <= greatest.to_si());
        let fewest = fits().map(|row| row.seams.to_si()).fold(f64::INFINITY, f64::min);
        let whole = fits().filter(|row| row.seams.to_si() <= fewest * SAME_SEAMS);
        whole.min_by(|a, b| cloth(a).total_cmp(&cloth(b))).or(self.rows.first())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{CM, M2};

    fn row(width: f64, length: f64) -> Row {
        let cm = |value| Q::new(value, &CM);
        Row {
            width: cm(width),
            length: cm(length),
            area: Q::new(1.0, &M2),
            seams: cm(100.0),
            widest: cm(width),
            for_match: None,
        }
    }

    #[test]
    fn a_lay_needs_its_whole_width() {
        let table = Table::new(vec![row(60.0, 190.0), row(40.0, 300.0), row(80.0, 185.0)]);
        assert_eq!(table.at(Q::new(70.0, &CM)).map(|r| r.length), Some(Q::new(190.0, &CM)));
        assert_eq!(table.at(Q::new(30.0, &CM)).map(|r| r.width), Some(Q::new(40.0, &CM)));
        let least = table.least(Q::new(75.0, &CM), Q::new(50.0, &CM)).expect("rows");
        assert_eq!(least.width, Q::new(40.0, &CM));
        // a split costs seams: only on a loom too narrow for the whole piece
        let seamed = |width, length, seams: f64| Row { seams: Q::new(seams, &CM), ..row(width, length) };
        let table =
            Table::new(vec![seamed(30.0, 200.0, 180.0), seamed(60.0, 140.0, 100.0), seamed(65.0, 120.0, 100.5)]);
        let chosen = |loom: f64| table.least(Q::new(loom, &CM), Q::new(0.0, &CM)).map(|r| r.width);
        assert_eq!(
            (chosen(70.0), chosen(62.0), chosen(50.0)),
            (Some(Q::new(65.0, &CM)), Some(Q::new(60.0, &CM)), Some(Q::new(30.0, &CM)))
        );
        assert!(Table::default().at(Q::new(30.0, &CM)).is_none());
    }
}
