//! A token's secret: made once, shown once, kept only as its hash.

use sha2::{Digest, Sha256};
use std::{
    fmt,
    fs::OpenOptions,
    io::{self, Write},
    path::Path,
};

/// Prefix of every token, so that it is recognised wherever it turns up.
const TOKEN_PREFIX: &str = "ellwand_";
/// Random bytes in a token.
const BYTES: usize = 32;

/// True for a text that has the form of a token.
#[must_use]
pub fn is_token(text: &str) -> bool {
    text.strip_prefix(TOKEN_PREFIX).is_some_and(|digits| {
        digits.len() == 2 * BYTES
            && digits
                .bytes()
                .all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'))
    })
}

/// The secret of a token: `ellwand_` and 64 hexadecimal digits. It is never printed by accident.
#[derive(Clone, PartialEq, Eq)]
pub struct Secret(String);

impl Secret {
    /// A new one from the system's random numbers.
    ///
    /// # Errors
    /// A sentence, when the system has none to give.
    pub fn make() -> Result<Self, String> {
        let mut bytes = [0; BYTES];
        getrandom::fill(&mut bytes).map_err(|error| format!("no random numbers: {error}"))?;
        Ok(Self(format!("{TOKEN_PREFIX}{}", hex(&bytes))))
    }

    /// A token that was shown; none unless it has the form of one.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        is_token(text).then(|| Self(text.to_owned()))
    }

    /// Its SHA-256, in hexadecimal digits. The secret is random and long, so a plain hash is enough: there is nothing to guess.
    #[must_use]
    pub fn hash(&self) -> String {
        hex(&Sha256::digest(self.0.as_bytes()))
    }

    /// The secret itself, to be shown once.
    #[must_use]
    pub fn expose(&self) -> &str {
        &self.0
    }

    /// Writes it into a new file that its owner alone can read.
    ///
    /// # Errors
    /// The file is there already, or cannot be written.
    pub fn write_new(&self, file: &Path) -> io::Result<()> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut new = options.open(file)?;
        writeln!(new, "{}", self.0)?;
        new.sync_all()
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{TOKEN_PREFIX}…")
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_secret_is_read_as_it_was_made_and_hides_itself() {
        let secret = Secret::make().expect("random numbers");
        assert_eq!(Secret::parse(secret.expose()), Some(secret.clone()));
        assert_ne!(Secret::make().expect("random numbers"), secret);
        assert_eq!(format!("{secret:?}"), "ellwand_…");
        let digits = secret.expose().trim_start_matches(TOKEN_PREFIX).to_owned();
        for wrong in [
            digits.clone(),
            format!("{TOKEN_PREFIX}{digits}0"),
            secret.expose().to_uppercase(),
            String::new(),
        ] {
            assert_eq!(Secret::parse(&wrong), None, "{wrong}");
        }
    }

    /// SHA-256 of "abc": NIST FIPS 180-4, example of section B.1 in its predecessor FIPS 180-2.
    #[test]
    fn the_hash_is_sha_256() {
        let hash = Secret("abc".to_owned()).hash();
        assert_eq!(
            hash,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
