//! The plan's folder on disk: read whole, replaced whole, and never left. What the command line and the workbench share; knows no terminal
//! and no HTTP.
#![expect(clippy::disallowed_methods, reason = "this is the layer that reads files")]

use crate::plan::keys::{TABLE, Takes};
use crate::plan::{self, Files};
use std::io::Write;
use std::path::{Component, Path, PathBuf};

/// Largest plan that is read, in bytes.
pub const LARGEST_PLAN: u64 = plan::LONGEST as u64;
/// Largest file a plan may name, in bytes.
pub const LARGEST_FILE: u64 = 64 << 20;

/// Bytes of a file no larger than `most`.
///
/// # Errors
/// Why not, for a person.
pub fn read(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let about = std::fs::metadata(path).map_err(|fault| fault.to_string())?;
    if !about.is_file() {
        return Err("is not a file".into());
    }
    if about.len() > most {
        return Err(format!("is {} bytes long; at most {most} are read", about.len()));
    }
    std::fs::read(path).map_err(|fault| fault.to_string())
}

/// A plan's text.
///
/// # Errors
/// Why not, for a person, with the file's name.
pub fn read_plan(path: &Path) -> Result<String, String> {
    let bytes = read(path, LARGEST_PLAN).map_err(|why| format!("{}: {why}", path.display()))?;
    String::from_utf8(bytes).map_err(|_| format!("{}: is not UTF-8 text", path.display()))
}

/// Writes a file whole: beside it first, synced, then in its place.
///
/// # Errors
/// Why not, for a person, with the file's name; the old file then still stands.
pub fn replace(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let whole = || -> std::io::Result<()> {
        let mut beside = tempfile::NamedTempFile::new_in(folder_of(path.parent().unwrap_or(Path::new(""))))?;
        beside.write_all(bytes)?;
        beside.as_file().sync_all()?;
        open_to_others(beside.path());
        beside.persist(path).map_err(|fault| fault.error)?;
        Ok(())
    };
    whole().map_err(|fault| format!("{}: {fault}", path.display()))
}

/// A temporary file is the owner's alone; what stands in the plan's folder is to be read by whoever may read the folder.
#[cfg(unix)]
fn open_to_others(path: &Path) {
    use std::os::unix::fs::PermissionsExt;
    // where this is refused the file is still there, readable by its owner
    let _ = std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o644));
}
#[cfg(not(unix))]
fn open_to_others(_: &Path) {}

/// The files that a plan's text names, as far as they are there.
pub fn files(text: &str, folder: &Path) -> Files {
    let mut files = Files::default();
    let (tree, _) = toml::de::DeTable::parse_recoverable(text);
    for key in TABLE.keys.iter().filter(|key| matches!(key.takes, Takes::File { .. })) {
        let mut names = Vec::new();
        collect(tree.get_ref(), &key.path.split('.').collect::<Vec<_>>(), &mut names);
        for name in names {
            if let Some(bytes) = inside(folder, &name).and_then(|path| read(&path, LARGEST_FILE).ok()) {
                files.insert(name, bytes);
            }
        }
    }
    files
}

/// The texts at a path of the tree; `piece[]` means every table of that name.
fn collect(table: &toml::de::DeTable, path: &[&str], out: &mut Vec<String>) {
    let Some((first, rest)) = path.split_first() else { return };
    let Some(value) = table.get(first.trim_end_matches("[]")).map(|value| value.get_ref()) else { return };
    if rest.is_empty() {
        out.extend(value.as_str().map(str::to_string));
    } else if let Some(table) = value.as_table() {
        collect(table, rest, out);
    } else if let Some(array) = value.as_array() {
        for table in array.iter().filter_map(|item| item.get_ref().as_table()) {
            collect(table, rest, out);
        }
    }
}

/// A name as a path below the folder; none for one that leads out of it.
pub fn inside(folder: &Path, name: &str) -> Option<PathBuf> {
    let plain = |part: Component| matches!(part, Component::Normal(_) | Component::CurDir);
    let name = Path::new(name);
    if name.as_os_str().is_empty() || !name.components().all(plain) {
        return None;
    }
    let path = folder.join(name);
    // a link may lead out though its name does not
    let (real, home) = (path.canonicalize().ok()?, folder_of(folder).canonicalize().ok()?);
    real.starts_with(home).then_some(path)
}

fn folder_of(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() { Path::new(".") } else { folder }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_leads_out_of_the_folder() {
        let folder = tempfile::tempdir().expect("a folder");
        let home = folder.path().join("plans");
        std::fs::create_dir(&home).expect("a folder in it");
        std::fs::write(folder.path().join("secret.txt"), "x").expect("a file outside");
        std::fs::write(home.join("own.txt"), "x").expect("a file inside");
        assert!(inside(&home, "own.txt").is_some());
        for name in ["../secret.txt", "/etc/hostname", "a/../../secret.txt", "", ".."] {
            assert!(inside(&home, name).is_none(), "{name}");
        }
        std::os::unix::fs::symlink(folder.path().join("secret.txt"), home.join("link.txt")).expect("a link");
        assert!(inside(&home, "link.txt").is_none());
    }

    #[test]
    fn a_file_is_replaced_whole() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("plan.toml");
        replace(&path, b"one").expect("written");
        replace(&path, b"two").expect("written again");
        assert_eq!(read(&path, 10).expect("read"), b"two");
        assert!(read(&path, 2).expect_err("too long").contains("3 bytes"));
    }
}
