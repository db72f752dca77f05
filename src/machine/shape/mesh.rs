//! Closed surfaces of triangles: pulled up from an outline or strung between rings, and proved closed.
//!
//! Corners are shared by number. A mesh that [`Mesh::prove`] passes has every edge on exactly two triangles that run along it
//! in opposite directions, no triangle without area, and encloses a positive volume: what a printer's slicer needs.

use super::{GRID, Outline, triangulate};
use crate::machine::Refusal;
use std::collections::BTreeMap;

/// A surface, millimetres.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Mesh {
    pub corners: Vec<[f64; 3]>,
    /// Corner numbers, anticlockwise seen from outside.
    pub faces: Vec<[u32; 3]>,
}

/// What a proof found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proof {
    /// Enclosed, mm³.
    pub volume: f64,
    /// Number of edges.
    pub edges: usize,
    /// Handles through the body (a ring has one): from Euler's count, corners − edges + faces = 2 − 2 × handles.
    pub handles: i64,
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
fn from(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [b[0] - a[0], b[1] - a[1], b[2] - a[2]]
}

impl Mesh {
    /// A plate: the outline pulled up from `low` to `high`.
    ///
    /// # Errors
    /// An outline that crosses itself, a hole outside, or no height.
    pub fn plate(outline: &Outline, low: f64, high: f64) -> Result<Mesh, Refusal> {
        if (high - low).is_nan() || high - low <= 1e-3 {
            return Err(Refusal::new("shape", format!("a plate {} mm thick", high - low)));
        }
        let outline = outline.tidy()?;
        let flat = triangulate::triangles(&outline)?;
        let ring: Vec<[f64; 2]> = outline.outer.iter().chain(outline.holes.iter().flatten()).copied().collect();
        let n = ring.len() as u32;
        let mut mesh = Mesh::default();
        mesh.corners.extend(ring.iter().map(|p| [p[0], p[1], low]));
        mesh.corners.extend(ring.iter().map(|p| [p[0], p[1], high]));
        for [a, b, c] in flat.into_iter().map(|t| t.map(|i| i as u32)) {
            mesh.faces.push([a, c, b]);
            mesh.faces.push([a + n, b + n, c + n]);
        }
        let mut start = 0;
        for length in std::iter::once(outline.outer.len()).chain(outline.holes.iter().map(Vec::len)) {
            for i in 0..length as u32 {
                let (a, b) = (start + i, start + (i + 1) % length as u32);
                mesh.faces.push([a, b, b + n]);
                mesh.faces.push([a, b + n, a + n]);
            }
            start += length as u32;
        }
        Ok(mesh)
    }

    /// Rings of equal corner number strung one to the next and the last to the first: turned parts with a bore of any shape.
    /// The rings follow the section's edge so that the body lies to the left of the way.
    ///
    /// # Errors
    /// Fewer than three rings or corners, or rings of unequal number.
    pub fn strung(rings: &[Vec<[f64; 3]>]) -> Result<Mesh, Refusal> {
        let around = rings.first().map_or(0, Vec::len);
        if rings.len() < 3 || around < 3 || rings.iter().any(|r| r.len() != around) {
            return Err(Refusal::new("shape", "a turned part needs three rings of equal corner number or more"));
        }
        let snap = |p: &[f64; 3]| p.map(|x| (x * GRID).round() / GRID);
        let mut mesh = Mesh { corners: rings.iter().flatten().map(snap).collect(), faces: Vec::new() };
        let (count, n) = (rings.len() as u32, around as u32);
        for k in 0..count {
            let next = (k + 1) % count;
            for i in 0..n {
                let j = (i + 1) % n;
                let (a, b, c, d) = (k * n + i, k * n + j, next * n + j, next * n + i);
                mesh.faces.push([a, b, c]);
                mesh.faces.push([a, c, d]);
            }
        }
        Ok(mesh)
    }

    /// A section `(radius, height)`, all radii above nothing, turned about the height axis in `around` steps. The section's
    /// corners run anticlockwise in (radius, height).
    ///
    /// # Errors
    /// As for [`Mesh::strung`], or a radius not above nothing.
    pub fn turned(section: &[[f64; 2]], around: usize) -> Result<Mesh, Refusal> {
        if section.iter().any(|p| p[0].is_nan() || p[0] <= 1e-3) {
            return Err(Refusal::new("shape", "a turned part needs a bore: every radius above nothing"));
        }
        let ring = |p: &[f64; 2]| super::circle([0.0, 0.0], p[0], around).iter().map(|c| [c[0], c[1], p[1]]).collect();
        Mesh::strung(&section.iter().map(ring).collect::<Vec<_>>())
    }

    /// Volume enclosed, mm³ (divergence theorem).
    pub fn volume(&self) -> f64 {
        let at = |i: u32| self.corners[i as usize];
        self.faces.iter().map(|[a, b, c]| dot(at(*a), cross(at(*b), at(*c)))).sum::<f64>() / 6.0
    }

    /// The mesh moved.
    pub fn moved(mut self, by: [f64; 3]) -> Mesh {
        self.corners.iter_mut().for_each(|p| *p = [p[0] + by[0], p[1] + by[1], p[2] + by[2]]);
        self
    }

    /// Proves the surface closed.
    ///
    /// # Errors
    /// The first fault: an edge not on exactly two triangles in opposite directions, a triangle without area, corners that
    /// fall together in 32-bit numbers, or no positive volume.
    pub fn prove(&self) -> Result<Proof, Refusal> {
        let fault = |words: String| Refusal::new("shape", words);
        let mut edges: BTreeMap<(u32, u32), u32> = BTreeMap::new();
        for [a, b, c] in &self.faces {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                *edges.entry((*from, *to)).or_default() += 1;
            }
        }
        for ((from, to), times) in &edges {
            if *times != 1 || edges.get(&(*to, *from)) != Some(&1) {
                return Err(fault(format!("edge {from}-{to} is not on exactly two triangles in opposite directions")));
            }
        }
        let mut places = BTreeMap::new();
        for (i, p) in self.corners.iter().enumerate() {
            if let Some(other) = places.insert(p.map(|x| (x as f32).to_bits()), i) {
                return Err(fault(format!("corners {other} and {i} fall together")));
            }
        }
        for face in &self.faces {
            let [a, b, c] = face.map(|i| self.corners[i as usize]);
            let normal = cross(from(a, b), from(a, c));
            if dot(normal, normal).is_nan() || dot(normal, normal) <= 1e-16 {
                return Err(fault(format!("triangle {face:?} has no area")));
            }
        }
        let (volume, edges) = (self.volume(), edges.len() / 2);
        if volume.is_nan() || volume <= 0.0 {
            return Err(fault(format!("the surface encloses {volume} mm3")));
        }
        let euler = self.corners.len() as i64 - edges as i64 + self.faces.len() as i64;
        Ok(Proof { volume, edges, handles: (2 - euler) / 2 })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{circle, rounded};
    use super::*;

    #[test]
    fn a_plate_with_two_holes() {
        let outer = rounded([0.0, 0.0], [40.0, 20.0], 3.0, 6);
        let holes = vec![circle([10.0, 10.0], 4.0, 32), circle([28.0, 9.0], 2.5, 24)];
        let outline = Outline { outer, holes };
        let proof = Mesh::plate(&outline, 0.0, 5.0).unwrap().prove().unwrap();
        // Corners were snapped to the grid of 1e-4 mm.
        assert!((proof.volume - 5.0 * outline.area()).abs() < 0.05, "{} {}", proof.volume, 5.0 * outline.area());
        assert_eq!(proof.handles, 2);
    }

    /// Pappus' theorem for the polygon of `around` sides: 2 pi r A shrinks to around x sin(2 pi / around) r A.
    #[test]
    fn a_turned_ring_has_pappus_volume() {
        let section = [[10.0, 0.0], [14.0, 0.0], [14.0, 6.0], [10.0, 6.0]];
        let proof = Mesh::turned(&section, 96).unwrap().prove().unwrap();
        let exact = 96.0 * libm::sin(std::f64::consts::TAU / 96.0) * 12.0 * 24.0;
        assert!((proof.volume - exact).abs() < 0.05, "{} {exact}", proof.volume);
        assert_eq!(proof.handles, 1);
    }

    #[test]
    fn a_comb_of_many_holes() {
        let mut outline = Outline::solid(rounded([0.0, 0.0], [120.0, 60.0], 2.0, 4));
        for i in 0..30 {
            outline.holes.push(rounded([2.0 + 3.8 * f64::from(i), 6.0], [3.2 + 3.8 * f64::from(i), 54.0], 0.6, 4));
            outline.holes.push(circle([4.5 + 3.8 * f64::from(i), 30.0], 0.5, 16));
        }
        outline.holes.pop();
        let proof = Mesh::plate(&outline, 0.0, 3.0).unwrap().prove().unwrap();
        assert_eq!(proof.handles, 59);
        assert!((proof.volume - 3.0 * outline.area()).abs() / proof.volume < 1e-5);
    }

    #[test]
    fn an_open_or_inside_out_surface_fails() {
        let mut mesh = Mesh::turned(&[[10.0, 0.0], [14.0, 0.0], [14.0, 6.0], [10.0, 6.0]], 24).unwrap();
        let mut inside_out = mesh.clone();
        inside_out.faces.iter_mut().for_each(|f| f.swap(1, 2));
        assert!(inside_out.prove().unwrap_err().to_string().contains("encloses"));
        mesh.faces.pop();
        assert!(mesh.prove().unwrap_err().to_string().contains("edge"));
    }

    #[test]
    fn crossing_edges_and_stray_holes_are_refused() {
        let bow = Outline::solid(vec![[0.0, 0.0], [10.0, 10.0], [10.0, 0.0], [0.0, 9.0]]);
        assert!(Mesh::plate(&bow, 0.0, 1.0).and_then(|m| m.prove()).is_err());
        let stray =
            Outline { outer: rounded([0.0, 0.0], [10.0, 10.0], 1.0, 3), holes: vec![circle([30.0, 5.0], 2.0, 12)] };
        assert!(Mesh::plate(&stray, 0.0, 1.0).is_err());
        assert!(Mesh::plate(&bow, 1.0, 1.0).is_err());
        assert!(Mesh::turned(&[[0.0, 0.0], [14.0, 0.0], [14.0, 6.0]], 24).is_err());
    }
}
