//! A quotation as a sheet: an HTML page or a PDF file, for the customer or for the workshop.
//!
//! `document` holds the content of a sheet, once for both forms; `html` and `pdf` draw it. Nothing internal
//! reaches a customer's document, so that neither form has anything to hide.

mod bar;
mod customer;
mod document;
mod html;
mod internal;
mod logo;
mod offers;
mod pdf;
mod receipt;
#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod sample;
#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests;
mod words;

pub use document::Document;

use ellwand_contract::quotations::{Payment, Quotation};

/// Why a sheet was not drawn.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// The workshop's sheet was requested, but the answer has none: the reader may not see what work earns.
    #[error("you may not see the workshop's sheet of this quotation, only the customer's")]
    Hidden,
    /// The page could not be filled in: a fault of the program.
    #[error("the page could not be written")]
    Template(#[from] askama::Error),
    /// The file could not be drawn: a fault of the program.
    #[error("the PDF could not be drawn")]
    Drawn,
}

/// The customer's sheet, or the workshop's when `inside`.
///
/// # Errors
/// [`PageError::Hidden`] when the workshop's sheet is requested and `quotation` has none.
pub fn sheet(quotation: &Quotation, inside: bool) -> Result<Document, PageError> {
    let mut document = customer::document(quotation);
    if inside {
        let sheet = quotation.inside.as_ref().ok_or(PageError::Hidden)?;
        internal::add(&mut document, quotation, sheet);
    }
    Ok(document)
}

/// The receipt for one of the payments of a quotation.
#[must_use]
pub fn receipt(quotation: &Quotation, payment: &Payment) -> Document {
    receipt::document(quotation, payment)
}
