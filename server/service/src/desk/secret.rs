//! A token's secret: made once, shown once, kept only as its hash.

use ellwand_contract::people::{TOKEN_DIGITS, TOKEN_PREFIX, is_token};
use sha2::{Digest, Sha256};
use std::fmt;

/// Random bytes in a token.
const BYTES: usize = TOKEN_DIGITS / 2;

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
