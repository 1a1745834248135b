//! Reads pattern files: the parts of a garment as outlines to scale, their grain along the warp.
//!
//! Three kinds of file: a drawing in the layers of ASTM D6673 (DXF), a plain drawing (SVG), and corners as they were read off
//! paper (TOML). Nothing is assumed in silence: what a file does not say is said as a note, and a length that it cannot have is
//! refused. Floats end here; what comes out is whole micrometres, checked.

mod curve;
mod drawn;
mod dxf_file;
mod error;
mod keys;
mod known;
mod paper;
mod svg_file;
mod unit;

pub use drawn::{Drawn, DrawnPart};
pub use error::PatternError;
pub use known::Known;
pub use paper::EXAMPLE;
pub use unit::{Unit, UnitError};

/// Most bytes of a file.
pub const MOST_BYTES: usize = 20_000_000;

/// Reads a file by its content: XML is SVG, what begins with a group code is DXF, all else TOML. The unit is asked for where the
/// file itself says none.
///
/// # Errors
/// [`PatternError`] with the part that it is about; of several faults the first.
pub fn read(bytes: &[u8], unit: Option<Unit>) -> Result<Drawn, PatternError> {
    if bytes.len() > MOST_BYTES {
        return Err(PatternError::TooLarge);
    }
    let text = std::str::from_utf8(bytes).map(str::trim_start);
    match text {
        Ok(text) if text.starts_with('<') || text.starts_with("\u{feff}<") => {
            svg_file::read(text, unit)
        }
        Ok(text) if !is_dxf(text) => paper::read(text, unit),
        _ => dxf_file::read(bytes, unit),
    }
}

/// True where the first line is a number alone, as the group code of a drawing is.
fn is_dxf(text: &str) -> bool {
    let first = text.lines().next().unwrap_or_default().trim();
    !first.is_empty() && first.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests;
