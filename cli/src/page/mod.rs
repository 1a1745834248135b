//! A quotation as a sheet: an HTML page or a PDF file, for the customer or for the workshop.
//!
//! `document` says what stands on a sheet, once for both forms; `html` and `pdf` draw it. Nothing internal
//! reaches a customer's document, so that neither form has anything to hide.

mod bar;
mod customer;
mod document;
mod html;
mod internal;
mod offers;
mod pdf;
#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod sample;
#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests;
mod words;

pub use html::html;
pub use pdf::{lost, pdf};

use document::Document;
use ellwand_contract::quotations::Quotation;

/// Why a sheet was not drawn.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// The workshop's sheet was asked for, but the answer holds none: whoever asks is not told what work earns.
    #[error(
        "the workshop's sheet of this quotation is not told to whoever asks; the customer's sheet is"
    )]
    NotTold,
    /// The page could not be filled in: a fault of the program.
    #[error("the page could not be written")]
    Template(#[from] askama::Error),
}

/// The customer's sheet, or the workshop's when `inside`.
fn sheet(quotation: &Quotation, inside: bool) -> Result<Document, PageError> {
    let mut document = customer::document(quotation);
    if inside {
        let sheet = quotation.inside.as_ref().ok_or(PageError::NotTold)?;
        internal::add(&mut document, quotation, sheet);
    }
    Ok(document)
}
