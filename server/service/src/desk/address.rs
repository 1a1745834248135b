//! The address of a book whose password lies elsewhere: in a file, or in the environment.

use std::{fs, path::Path};

/// Where the password of a database is, if not in its address.
#[derive(Debug, Clone, Copy, Default)]
pub struct Password<'a> {
    /// The password itself, from the environment; a file counts before it.
    pub text: Option<&'a str>,
    /// A file that holds it and nothing else.
    pub file: Option<&'a Path>,
}

impl Password<'_> {
    /// The address with the password, if it is one of PostgreSQL without any. What is returned is a secret.
    ///
    /// # Errors
    /// In words and without the password: a file that cannot be read, is empty, or that strangers can read.
    pub fn put_into(self, url: &str) -> Result<String, String> {
        if !url.starts_with("postgres") || has_password(url) {
            return Ok(url.to_owned());
        }
        let password = match (self.file, self.text) {
            (Some(file), _) => read(file)?,
            (None, Some(text)) => text.to_owned(),
            (None, None) => return Ok(url.to_owned()),
        };
        let encoded: String = password
            .bytes()
            .map(|byte| format!("%{byte:02X}"))
            .collect();
        let (place, parameters) = url.split_at(url.find('?').unwrap_or(url.len()));
        Ok(match place.rsplit_once('@') {
            Some((person, host)) => format!("{person}:{encoded}@{host}{parameters}"),
            None if parameters.is_empty() => format!("{url}?password={encoded}"),
            None => format!("{url}&password={encoded}"),
        })
    }
}

fn has_password(url: &str) -> bool {
    let (place, parameters) = url.split_once('?').unwrap_or((url, ""));
    let place = place.split_once("://").map_or(place, |(_, place)| place);
    let person = place.rsplit_once('@').map_or("", |(person, _)| person);
    person.contains(':')
        || parameters
            .split('&')
            .any(|each| each.starts_with("password="))
}

fn read(file: &Path) -> Result<String, String> {
    let wrong = |cause: &str| format!("the password's file {}: {cause}", file.display());
    let text = fs::read_to_string(file).map_err(|error| wrong(&error.to_string()))?;
    let password = text.trim_end_matches(['\r', '\n']);
    if password.is_empty() {
        return Err(wrong("it is empty"));
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = fs::metadata(file).map_or(0, |metadata| metadata.permissions().mode());
        if mode & 0o007 != 0 {
            return Err(wrong(
                "everyone on this machine can read it; chmod o= and change the password",
            ));
        }
    }
    Ok(password.to_owned())
}

#[cfg(test)]
mod tests {
    use super::{Password, has_password};

    #[test]
    fn an_address_of_postgresql_without_a_password_gets_it() {
        let given = Password {
            text: Some("a&b=c %"),
            file: None,
        };
        let url = given
            .put_into("postgres://anna@db/book")
            .expect("an address");
        // RFC 3986, section 2.1: a percent sign and the two hexadecimal digits of each byte.
        assert_eq!(url, "postgres://anna:%61%26%62%3D%63%20%25@db/book");
        let url = given
            .put_into("postgres:///book?host=/run")
            .expect("an address");
        assert_eq!(
            url,
            "postgres:///book?host=/run&password=%61%26%62%3D%63%20%25"
        );
        for own in [
            "postgres://anna:x@db/book",
            "postgres://db/book?password=x",
            "sqlite:///a@b",
        ] {
            assert_eq!(given.put_into(own).as_deref(), Ok(own));
        }
        assert_eq!(
            Password::default().put_into("postgres://db/b").as_deref(),
            Ok("postgres://db/b")
        );
        assert!(!has_password("postgresql://anna@db:5432/book"));
    }
}
