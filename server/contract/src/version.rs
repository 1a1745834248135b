//! Which program answers, so that a client and a server of different versions can say so.

use serde::{Deserialize, Serialize};

/// Where a server says it; no token is needed.
pub const PATH: &str = "/v1/version";

/// Number of the wire form. It goes up with every release in which a request or an answer differs from the last one, so that
/// two programs of one number understand each other.
pub const WIRE: u32 = 1;

/// A program, its version and the wire form it speaks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Version {
    /// Name of the program.
    pub name: String,
    /// Its version.
    pub version: String,
    /// Number of the wire form.
    pub wire: u32,
}

impl Version {
    /// Of this program, by its name.
    #[must_use]
    pub fn own(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            wire: WIRE,
        }
    }
}
