//! Reading a plan from disk with the files it names. No name leads out of the plan's own folder.

use crate::diag::{self, Diagnostic, any_error, show::Look};
use crate::plan::keys::{TABLE, Takes};
use crate::plan::{self, Files, Plan};
use std::path::{Component, Path};

/// Largest plan, and largest file a plan may name.
const LARGEST_PLAN: u64 = plan::LONGEST as u64;
const LARGEST_FILE: u64 = 64 << 20;

/// A plan as it stands on disk.
pub struct Loaded {
    pub text: String,
    pub plan: Plan,
    /// What was noticed and is no error.
    pub noticed: Vec<Diagnostic>,
}

/// Reads a plan. The error is ready to be shown.
pub fn load(path: &Path, look: Look) -> Result<Loaded, String> {
    let bytes = read(path, LARGEST_PLAN).map_err(|why| format!("{}: {why}", path.display()))?;
    let text = String::from_utf8(bytes).map_err(|_| format!("{}: is not UTF-8 text", path.display()))?;
    let folder = path.parent().unwrap_or(Path::new("."));
    let files = files(&text, folder);
    let (plan, found) = plan::read(&text, &files);
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or("plan");
    match plan {
        Some(plan) if !any_error(&found) => Ok(Loaded { text, plan, noticed: found }),
        _ => Err(diag::show::render(&found, &text, name, look)),
    }
}

/// Bytes of a file no larger than `most`.
#[expect(clippy::disallowed_methods, reason = "the command line reads files")]
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

/// Writes a file whole: beside it first, synced, then in its place.
pub fn replace(path: &Path, bytes: &[u8]) -> Result<(), String> {
    use std::io::Write;
    let whole = || -> std::io::Result<()> {
        let mut beside = tempfile::NamedTempFile::new_in(folder_of(path.parent().unwrap_or(Path::new(""))))?;
        beside.write_all(bytes)?;
        beside.as_file().sync_all()?;
        beside.persist(path).map_err(|fault| fault.error)?;
        Ok(())
    };
    whole().map_err(|fault| format!("{}: {fault}", path.display()))
}

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
pub fn inside(folder: &Path, name: &str) -> Option<std::path::PathBuf> {
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
