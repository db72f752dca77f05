//! Closed surfaces as STL, the binary form that printers' slicers read; millimetres by custom. A surface is proved closed before a
//! byte is written, so that a file that exists can be printed.

use crate::machine::Refusal;
use crate::machine::shape::mesh::Mesh;

/// Most triangles in one file.
pub const MOST_TRIANGLES: usize = 1_000_000;

/// The mesh as a binary STL file.
///
/// # Errors
/// A surface that [`Mesh::prove`] refuses, or more triangles than [`MOST_TRIANGLES`].
pub fn stl(mesh: &Mesh) -> Result<Vec<u8>, Refusal> {
    if mesh.faces.len() > MOST_TRIANGLES {
        return Err(Refusal::new(
            "shape",
            format!("{} triangles in one part; at most {MOST_TRIANGLES}", mesh.faces.len()),
        ));
    }
    mesh.prove()?;
    let triangles: Vec<stl_io::Triangle> = mesh.faces.iter().map(|face| triangle(mesh, face)).collect();
    let mut out = Vec::with_capacity(84 + 50 * triangles.len());
    stl_io::write_stl(&mut out, triangles.iter()).map_err(|e| Refusal::new("shape", e.to_string()))?;
    Ok(out)
}

fn triangle(mesh: &Mesh, face: &[u32; 3]) -> stl_io::Triangle {
    let corner = face.map(|i| mesh.corners[i as usize]);
    let (u, v) = (less(corner[1], corner[0]), less(corner[2], corner[0]));
    let normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let length = (normal[0] * normal[0] + normal[1] * normal[1] + normal[2] * normal[2]).sqrt();
    stl_io::Triangle {
        normal: stl_io::Normal::new(normal.map(|n| (n / length) as f32)),
        vertices: corner.map(|c| stl_io::Vertex::new(c.map(|x| x as f32))),
    }
}

fn less(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machine::turned::{Bore, pulley};

    /// Written, read back by the library's own reader, found watertight by its own validation; same bytes twice.
    #[test]
    fn a_pulley_goes_round_trip() {
        let mesh = pulley("p", 63.0, 2.0, Bore::Round { diameter: 10.0 }).unwrap().mesh().unwrap();
        let bytes = stl(&mesh).unwrap();
        assert_eq!(bytes, stl(&mesh).unwrap());
        assert_eq!(bytes.len(), 84 + 50 * mesh.faces.len());
        let read = stl_io::read_stl(&mut std::io::Cursor::new(&bytes)).unwrap();
        assert_eq!(read.faces.len(), mesh.faces.len());
        assert_eq!(read.vertices.len(), mesh.corners.len());
        read.validate().unwrap();
    }

    #[test]
    fn an_open_surface_is_not_written() {
        let mut mesh = pulley("p", 63.0, 2.0, Bore::Round { diameter: 10.0 }).unwrap().mesh().unwrap();
        mesh.faces.pop();
        assert!(stl(&mesh).is_err());
    }
}
