//! Screens: meshes to be had, what each lets through, and which to take. Counts are threads per centimetre, threads and openings
//! micrometres. Ideal square mesh: makers' own tables differ by some points, because threads flatten.

/// A screen's mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mesh {
    /// Threads per centimetre.
    pub count: f64,
    /// Diameter of the thread, µm.
    pub thread: f64,
}

const fn mesh(count: f64, thread: f64) -> Mesh {
    Mesh { count, thread }
}

/// Meshes to be had, coarsest first. Counts and threads as they are sold, from memory; what follows from them is geometry.
pub const STOCK: [Mesh; 9] = [
    mesh(32.0, 100.0),
    mesh(43.0, 80.0),
    mesh(55.0, 64.0),
    mesh(62.0, 64.0),
    mesh(77.0, 55.0),
    mesh(90.0, 48.0),
    mesh(100.0, 40.0),
    mesh(120.0, 40.0),
    mesh(120.0, 34.0),
];

/// A line wants this many of the mesh's own finest lines: then its edge is clean (common practice, no source).
const LINES: f64 = 2.0;
/// Threads to one row of dots (`mesh-faq`: 2.5, 3.75 and 5; `coudray-2003`: 3.5 to 4 at least, 5 to be safe).
pub const THREADS_PER_ROW: f64 = 5.0;
/// Coarsest mesh for shades, and finest for flat colour on cloth: more of it lays too little ink (from memory, 32 to 55 for flat colour).
const FINEST_FLAT: f64 = 55.0;

impl Mesh {
    /// Opening, µm.
    pub fn opening(&self) -> f64 {
        10_000.0 / self.count - self.thread
    }
    /// Open share, 0 to 1.
    pub fn open(&self) -> f64 {
        let share = self.opening() / (self.opening() + self.thread);
        share * share
    }
    /// Finest line it holds, mm.
    pub fn line(&self) -> f64 {
        (2.0 * self.thread + self.opening()) / 1000.0
    }
    /// The thread usual for a count, of the nearest mesh in the table, made thinner where it would leave too little open.
    pub fn usual(count: f64) -> Mesh {
        let near = |m: &&Mesh| (libm::log(m.count / count)).abs();
        let thread = STOCK.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map_or(55.0, |m| m.thread);
        Mesh { count, thread: thread.min(0.5 * 10_000.0 / count) }
    }
}

/// The coarsest mesh, which lays the most ink, that holds the artwork's finest line and carries the rows of dots; why it was taken.
///
/// `line`: finest line of the artwork, mm; `ruling`: rows of dots per centimetre, where there are any.
pub fn choose(line: Option<f64>, ruling: Option<f64>) -> (Mesh, &'static str) {
    let holds = |m: &&Mesh| line.is_none_or(|line| LINES * m.line() <= line);
    let carries = |m: &&Mesh| ruling.is_none_or(|ruling| m.count >= THREADS_PER_ROW * ruling);
    let flat = |m: &&Mesh| ruling.is_some() || m.count <= FINEST_FLAT;
    match STOCK.iter().filter(flat).find(|m| holds(m) && carries(m)) {
        // 32 a centimetre floods open cloth: the next holds a sharper edge at little less ink
        Some(m) if m.count < 40.0 && line.is_none_or(|line| line < 4.0) => {
            (STOCK[1], "coarse enough for much ink, fine enough for the edges")
        }
        Some(m) => (*m, "the coarsest, so with the most ink, that holds the finest line"),
        None if ruling.is_some() => (STOCK[STOCK.len() - 1], "the finest to be had; the dots ask for more"),
        None => (STOCK[2], "the finest that still lays enough ink on cloth; the finest line asks for more"),
    }
}

/// Rows of dots per centimetre that a mesh carries and a cloth shows: `dot` is the smallest dot that holds on the cloth, mm.
pub fn ruling(mesh: f64, dot: f64) -> f64 {
    // two smallest dots to a row: tones from a fifth to four fifths then come as dots
    let of_cloth = 10.0 / (2.0 * dot);
    let most = (mesh / THREADS_PER_ROW).min(of_cloth);
    ((most * 2.0).floor() / 2.0).max(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ideal rows by geometry, worked out outside this program: count, thread, opening, open share in per cent.
    #[test]
    fn ideal_rows() {
        let rows = [
            (32.0, 100.0, 212.5, 46.2),
            (43.0, 80.0, 152.6, 43.0),
            (55.0, 64.0, 117.8, 42.0),
            (62.0, 64.0, 97.3, 36.4),
            (77.0, 55.0, 74.9, 33.2),
            (90.0, 48.0, 63.1, 32.3),
            (100.0, 40.0, 60.0, 36.0),
            (120.0, 34.0, 49.3, 35.0),
            (120.0, 40.0, 43.3, 27.0),
        ];
        for (count, thread, opening, open) in rows {
            let mesh = STOCK.iter().find(|m| (m.count, m.thread) == (count, thread)).expect("in the table");
            assert!((mesh.opening() - opening).abs() < 0.051 && (100.0 * mesh.open() - open).abs() < 0.051, "{mesh:?}");
        }
        // rule of thumb, two threads and an opening: 77-55 holds 0.185 mm
        assert!((Mesh { count: 77.0, thread: 55.0 }.line() - 0.1849).abs() < 5e-5);
    }

    #[test]
    fn finer_lines_ask_for_finer_meshes() {
        assert_eq!(choose(Some(5.0), None).0.count, 32.0);
        assert_eq!(choose(Some(1.0), None).0.count, 43.0);
        assert_eq!(choose(Some(0.5), None).0.count, 55.0);
        assert_eq!(choose(None, Some(14.0)).0.count, 77.0);
        assert!(choose(None, Some(40.0)).1.contains("ask for more"));
        assert!(STOCK.windows(2).all(|m| m[0].count <= m[1].count));
    }

    /// `mesh-faq`: 150 threads at 3.75 and 5 carry 40 and 30 rows; a coarse cloth asks for far fewer.
    #[test]
    fn rows_of_dots() {
        assert_eq!(ruling(150.0, 0.01), 30.0);
        assert_eq!(ruling(77.0, 1.3), 3.5);
        assert_eq!(ruling(20.0, 50.0), 1.0);
    }
}
