//! Whose the files of a book are. What root makes belongs to the owner of the folder, so that a service that runs as that
//! user can open what was made for it.

use std::{fs::File, path::Path};

/// Gives a new file, or a new folder, to the owner of the folder it lies in; for everyone but root that changes nothing.
#[cfg(unix)]
pub(crate) fn as_its_folder(path: &Path) {
    use std::os::unix::fs::{MetadataExt, chown};
    let owner = path
        .parent()
        .and_then(|folder| std::fs::metadata(folder).ok());
    if let (Some(owner), Ok(own)) = (owner, std::fs::metadata(path))
        && owner.uid() != own.uid()
        && is_root()
    {
        let _ = chown(path, Some(owner.uid()), Some(owner.gid()));
    }
}

/// Gives a lock file the book's owner, and lets those read it who may open the book: whoever reads it can hold it.
#[cfg(unix)]
pub(crate) fn as_the_book(lock: &File, book: &Path) {
    use std::{
        fs::Permissions,
        os::unix::fs::{MetadataExt, PermissionsExt, fchown},
    };
    let (Ok(own), Ok(book)) = (lock.metadata(), std::fs::metadata(book)) else {
        return;
    };
    // Whoever may not write to the book cannot open it either.
    let others = if book.mode() & 0o002 == 0 { 0 } else { 0o004 };
    let mode = 0o600 | (book.mode() & 0o040) | others;
    if own.mode() & 0o777 != mode {
        let _ = lock.set_permissions(Permissions::from_mode(mode));
    }
    if (own.uid(), own.gid()) != (book.uid(), book.gid()) && is_root() {
        let _ = fchown(lock, Some(book.uid()), Some(book.gid()));
    }
}

/// Says whose a file is that cannot be opened, or whose the folder is where it cannot be made.
#[cfg(unix)]
pub(crate) fn in_the_way(path: &Path) -> String {
    use std::os::unix::fs::MetadataExt;
    let of = |path: &Path| std::fs::metadata(path).ok();
    match (of(path), path.parent().and_then(of)) {
        (Some(file), _) => {
            let (owner, mode) = (name_of(file.uid()), file.mode() & 0o777);
            format!(
                "{} belongs to {owner} and its mode is {mode:03o}",
                path.display()
            )
        }
        (None, Some(folder)) => {
            format!(
                "{} cannot be created, its folder belongs to {}",
                path.display(),
                name_of(folder.uid())
            )
        }
        (None, None) => format!("{} cannot be created", path.display()),
    }
}

/// Asked before an owner is changed: a service that may do nothing but its work is ended by the system where it only tries.
#[cfg(unix)]
fn is_root() -> bool {
    rustix::process::geteuid().is_root()
}

/// A user as people know them.
#[cfg(unix)]
fn name_of(user: u32) -> String {
    let known = std::fs::read_to_string("/etc/passwd").unwrap_or_default();
    // name:password:uid:…
    let name = known.lines().find_map(|line| {
        let mut fields = line.split(':');
        let name = fields.next()?;
        (fields.nth(1)? == user.to_string()).then_some(name)
    });
    name.map_or_else(
        || format!("user {user}"),
        |name| format!("{name} (user {user})"),
    )
}

#[cfg(not(unix))]
pub(crate) fn as_its_folder(_: &Path) {}

#[cfg(not(unix))]
pub(crate) fn as_the_book(_: &File, _: &Path) {}

#[cfg(not(unix))]
pub(crate) fn in_the_way(path: &Path) -> String {
    format!("{} cannot be opened", path.display())
}
