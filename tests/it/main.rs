//! All integration tests in one binary: one link, one start.
mod drawing;
mod lay;
mod nest;
mod cloth;
mod measure;
mod plan;
mod formulas;
mod published;
mod log;
mod wif;
mod garment;
mod machine;
mod scene;
mod plans;
mod independent;
mod layers;
mod ids;
