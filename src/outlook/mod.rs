//! Trials, sensitivity, forecasts and the search over designs.
