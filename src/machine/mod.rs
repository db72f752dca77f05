//! Spinner and loom as shapes, netlist and cutting list.
