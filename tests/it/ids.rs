//! The ids of the JSON are a contract: none that stood once may go or change its unit. The list is added to, never cut.

use clothwright::chain::keys::ALL;

/// Ids of the contract and their units.
const CONTRACT: &str = include_str!("ids.txt");

#[test]
fn no_id_goes_or_changes_its_unit() {
    for line in CONTRACT.lines().filter(|line| !line.is_empty()) {
        let (name, unit) = line.split_once(' ').unwrap_or((line, ""));
        let key = ALL.iter().find(|key| key.name == name).unwrap_or_else(|| panic!("{name} is gone"));
        assert_eq!(key.unit.name, unit, "{name}");
    }
}

#[test]
fn names_are_unique_and_plain() {
    for (at, key) in ALL.iter().enumerate() {
        assert!(
            key.name.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '.' || c == '_'),
            "{}",
            key.name
        );
        assert!(ALL[at + 1..].iter().all(|other| other.name != key.name), "{}", key.name);
        assert!(key.says.ends_with('.') && key.says.len() > 5, "{}", key.name);
    }
}
