//! Drawings. Three kinds: a [`sheet`] (a list of lines and words in millimetres, exported to SVG, PDF, DXF and PNG), a
//! picture (pixels: cloth, preview, film) and a solid (a closed surface, exported to STL). Composers in [`sheets`] turn an
//! outcome into a sheet and compute nothing; exporters know their format and nothing of the trade. All write to bytes.

pub mod caution;
pub mod chart;
pub mod dimension;
pub mod dxf;
pub mod extent;
pub mod film;
pub mod of_plan;
pub mod pdf;
pub mod png;
pub mod proof;
pub mod refused;
pub mod picture;
pub mod sheet;
pub mod sheets;
pub mod solid;
pub mod style;
pub mod svg;
pub mod table;
pub mod text;
pub mod tiles;
pub mod title;
pub mod tree;
