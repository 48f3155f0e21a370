//! The one place that writes files: whole or not at all, and never over another without `--force`.

use std::ffi::OsStr;
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;

use crate::answer::{Answer, File, Form, Status};

use super::messages;
use super::output::{Failure, print_bytes, show};

/// What happens to a file that exists already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Overwrite {
    /// It stays, and the command is refused.
    Never,
    /// It is replaced; its permissions stay.
    Replace,
}

impl Overwrite {
    /// What the flag `--force` means.
    pub(super) fn forced(force: bool) -> Overwrite {
        if force { Overwrite::Replace } else { Overwrite::Never }
    }
}

/// True if the name is `-`: standard output.
pub(super) fn is_stdout(path: &Path) -> bool {
    path == Path::new("-")
}

/// Writes a file whole, or keeps the old one; `-` is standard output.
///
/// The bytes go to a new file beside it that then takes its name, so that nobody ever sees half of it.
/// Devices and pipes are written to directly.
pub(super) fn write(path: &Path, bytes: &[u8], overwrite: Overwrite) -> Result<(), Failure> {
    if is_stdout(path) {
        return print_bytes(bytes);
    }
    write_one_of_many(path, bytes, overwrite)?;
    if messages::somebody_watches() {
        messages::tell(&format!("to open it: {}", opening(path)));
    }
    Ok(())
}

/// Writes the files of an answer: one under the given name, several each with its number in the name.
pub(super) fn keep(answer: &Answer, path: &Path, overwrite: Overwrite) -> Result<(), Failure> {
    if let Some(word) = answer.word(None) {
        messages::tell(word);
    }
    let bytes = |file: &File<'_>, path: &Path| {
        file.bytes().map_err(|why| Failure::file(path, "write", &why))
    };
    let files = answer.files();
    if let [file] = files.as_slice() {
        return write(path, &bytes(file, path)?, overwrite);
    }
    let paths: Vec<PathBuf> = (1..=files.len()).map(|number| numbered(path, number)).collect();
    refuse_existing(&paths, overwrite)?;
    // make every file before writing any: if one can't be made, none of the set is left behind
    let made = files.iter().zip(paths).map(|(file, path)| Ok((path.clone(), bytes(file, &path)?)));
    write_all(&made.collect::<Result<Vec<_>, Failure>>()?, overwrite)
}

fn numbered(path: &Path, number: usize) -> PathBuf {
    let stem = path.file_stem().and_then(OsStr::to_str).unwrap_or("page");
    let ending = path.extension().and_then(OsStr::to_str).unwrap_or_default();
    path.with_file_name(format!("{stem}-{number:02}.{ending}"))
}

/// Writes the file that comes with an answer if it has a name, then the answer to stdout, unless the
/// file went there.
pub(super) fn finish(
    answer: &Answer,
    form: Form,
    path: Option<&PathBuf>,
    force: bool,
) -> Result<Status, Failure> {
    if let Some(path) = path {
        keep(answer, path, Overwrite::forced(force))?;
        if is_stdout(path) {
            return Ok(answer.status());
        }
    }
    show(answer, form)
}

/// Writes a set of files: all of them, or none that did not exist before.
pub(super) fn write_all(set: &[(PathBuf, Vec<u8>)], overwrite: Overwrite) -> Result<(), Failure> {
    let mut fresh: Vec<&Path> = Vec::new();
    for (path, bytes) in set {
        let is_new = fs::symlink_metadata(path).is_err();
        if let Err(failure) = write_one_of_many(path, bytes, overwrite) {
            for path in fresh {
                if fs::remove_file(path).is_ok() {
                    messages::tell(&format!("took out {} again", path.display()));
                }
            }
            return Err(failure);
        }
        if is_new {
            fresh.push(path);
        }
    }
    Ok(())
}

/// As [`write`], without the hint how to open it.
pub(super) fn write_one_of_many(
    path: &Path,
    bytes: &[u8],
    overwrite: Overwrite,
) -> Result<(), Failure> {
    put(path, bytes, overwrite).map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => exists(path),
        _ => Failure::file(path, "write", &error),
    })?;
    messages::tell(&format!("wrote {}", path.display()));
    Ok(())
}

/// Makes a folder and its parents; an existing one is kept.
pub(super) fn make_folder(path: &Path) -> Result<(), Failure> {
    fs::create_dir_all(path).map_err(|error| Failure::file(path, "write", &error))
}

fn exists(path: &Path) -> Failure {
    Failure::file(path, "write", &"it exists already; add --force to replace it")
}

/// Refuses, before anything is written, if one of several files exists already.
pub(super) fn refuse_existing(paths: &[PathBuf], overwrite: Overwrite) -> Result<(), Failure> {
    if overwrite == Overwrite::Replace {
        return Ok(());
    }
    match paths
        .iter()
        .find(|path| fs::symlink_metadata(path).is_ok_and(|found| is_replaceable(&found)))
    {
        Some(path) => Err(exists(path)),
        None => Ok(()),
    }
}

/// Devices and pipes are written to, never replaced by a file.
fn is_replaceable(found: &fs::Metadata) -> bool {
    found.is_file() || found.is_dir() || found.is_symlink()
}

fn put(path: &Path, bytes: &[u8], overwrite: Overwrite) -> io::Result<()> {
    match fs::metadata(path) {
        Ok(found) if found.is_dir() => Err(io::Error::other("it is a folder")),
        Ok(found) if !is_replaceable(&found) => {
            OpenOptions::new().write(true).open(path)?.write_all(bytes)
        }
        Ok(_) if overwrite == Overwrite::Never => Err(io::ErrorKind::AlreadyExists.into()),
        Ok(found) if found.permissions().readonly() => {
            Err(io::Error::other("it is write-protected"))
        }
        // a link stays a link: replace the file it points to
        Ok(_) => replace(&fs::canonicalize(path)?, bytes),
        Err(_) if overwrite == Overwrite::Replace => replace(path, bytes),
        Err(_) => {
            // take the name first, so that of two writers one is refused
            drop(OpenOptions::new().write(true).create_new(true).open(path)?);
            replace(path, bytes).inspect_err(|_| {
                // nothing was written: remove the empty file that held the name
                let _ = fs::remove_file(path);
            })
        }
    }
}

fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = AtomicWriteFile::open(path)?;
    file.write_all(bytes)?;
    file.commit()
}

/// The command that opens a file with the default program for its kind.
fn opening(path: &Path) -> String {
    let name = path.display().to_string();
    let plain = |letter: char| letter.is_ascii_alphanumeric() || "-_./:\\".contains(letter);
    // a leading dash would be read as a flag
    let name = if name.starts_with('-') { format!("./{name}") } else { name };
    if cfg!(target_os = "windows") {
        // the first text in quotes is the window's title
        return format!("start \"\" \"{name}\"");
    }
    let program = if cfg!(target_os = "macos") { "open" } else { "xdg-open" };
    if name.chars().all(plain) {
        format!("{program} {name}")
    } else {
        format!("{program} '{}'", name.replace('\'', "'\\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A temporary folder, removed when the value is dropped.
    struct Folder(PathBuf);

    impl Folder {
        fn new(name: &str) -> Folder {
            let folder =
                std::env::temp_dir().join(format!("stepoff-files-{}-{name}", std::process::id()));
            fs::create_dir_all(&folder).unwrap();
            Folder(folder)
        }

        fn names(&self) -> Vec<String> {
            fs::read_dir(&self.0)
                .unwrap()
                .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
                .collect()
        }
    }

    impl Drop for Folder {
        fn drop(&mut self) {
            let _ = fs::remove_dir_all(&self.0);
        }
    }

    #[test]
    fn a_file_that_exists_stays_unless_told() {
        let folder = Folder::new("stays");
        let file = folder.0.join("roof.csv");
        write(&file, b"first", Overwrite::Never).unwrap();
        assert!(write(&file, b"second", Overwrite::Never).is_err());
        assert_eq!(fs::read(&file).unwrap(), b"first");
        assert!(refuse_existing(std::slice::from_ref(&file), Overwrite::Never).is_err());
        write(&file, b"third", Overwrite::Replace).unwrap();
        assert_eq!(fs::read(&file).unwrap(), b"third");
        assert_eq!(folder.names(), ["roof.csv"], "nothing is left beside it");
    }

    #[test]
    fn of_a_set_all_is_written_or_nothing() {
        let folder = Folder::new("set");
        let set = |names: [&str; 3]| names.map(|name| (folder.0.join(name), b"x".to_vec()));
        fs::write(folder.0.join("2.png"), "mine").unwrap();
        let failed = set(["1.png", "2.png", "none/3.png"]);
        assert!(write_all(&failed, Overwrite::Never).is_err());
        assert_eq!(folder.names(), ["2.png"]);
        assert!(write_all(&failed, Overwrite::Replace).is_err());
        assert_eq!(folder.names(), ["2.png"], "what was there is not removed");
        write_all(&set(["1.png", "2.png", "3.png"]), Overwrite::Replace).unwrap();
        assert_eq!(folder.names().len(), 3);
    }

    #[test]
    fn a_folder_is_not_a_file_and_a_missing_folder_leaves_nothing() {
        let folder = Folder::new("folder");
        assert!(write(&folder.0, b"x", Overwrite::Replace).is_err());
        let file = folder.0.join("none").join("roof.csv");
        for overwrite in [Overwrite::Never, Overwrite::Replace] {
            assert!(write(&file, b"x", overwrite).is_err());
        }
        assert!(folder.names().is_empty());
    }

    #[cfg(unix)]
    #[test]
    fn permissions_and_links_stay_and_protected_files_are_refused() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = Folder::new("mode");
        let (file, link) = (folder.0.join("roof.dxf"), folder.0.join("link.dxf"));
        fs::write(&file, "first").unwrap();
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&file, &link).unwrap();
        write(&link, b"second", Overwrite::Replace).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read(&file).unwrap(), b"second");
        let mode = || fs::metadata(&file).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(), 0o640);
        fs::set_permissions(&file, fs::Permissions::from_mode(0o440)).unwrap();
        assert!(write(&file, b"third", Overwrite::Replace).is_err());
        assert_eq!(fs::read(&file).unwrap(), b"second");
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_written_to_and_not_replaced() {
        use std::os::unix::fs::FileTypeExt;
        let null = Path::new("/dev/null");
        for overwrite in [Overwrite::Never, Overwrite::Replace] {
            write(null, b"x", overwrite).unwrap();
        }
        assert!(fs::metadata(null).unwrap().file_type().is_char_device());
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn the_hint_can_be_pasted_into_a_shell() {
        assert_eq!(opening(Path::new("a/set.pdf")), "xdg-open a/set.pdf");
        assert_eq!(opening(Path::new("Fox's roof.pdf")), "xdg-open 'Fox'\\''s roof.pdf'");
        assert_eq!(opening(Path::new("-x.pdf")), "xdg-open ./-x.pdf");
    }
}
