//! What samples say: estimates with ranges from few data. Pure; knows no store.
