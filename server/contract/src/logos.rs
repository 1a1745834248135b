//! The workshop's logo.

use crate::act::act;
use ellwand_domain::setting::PictureKind;
use serde::{Deserialize, Serialize};

/// Returns a logo.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetLogo {
    /// Its number, as the head of a sheet names it.
    pub logo: i64,
}
act!(read GetLogo => Logo, "get_logo", "/v1/logos/{logo}", "Returns a logo.");

/// A logo. It never changes: another picture is another logo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Logo {
    /// Its number.
    pub logo: i64,
    /// What the picture is.
    pub kind: PictureKind,
    /// The picture in base64 (RFC 4648, section 4).
    pub picture: String,
}
