//! Which tax rate each part of a price is at.

use crate::desk::failure::{Done, invalid};
use crate::money::tax;
use ellwand_contract::quotations::PriceInput;
use ellwand_domain::pricing::TaxRate;
use ellwand_storage::Tx;

/// What a rate may be said for, in the order of the customer's lines.
const PARTS: [&str; 3] = ["materials", "labour", "handling"];

/// The rates of a price.
#[derive(Default)]
pub(in crate::money::quotations) struct PartRates {
    /// Each once.
    pub(in crate::money::quotations) all: Vec<TaxRate>,
    /// Of materials, labour and handling: positions in `all`.
    pub(in crate::money::quotations) of: [usize; 3],
}

impl PartRates {
    /// One for all parts, the one that is named or else the workshop's first; those that `tax_on` names for themselves.
    pub(in crate::money::quotations) fn read(tx: &mut Tx<'_>, input: &PriceInput) -> Done<Self> {
        let known = tax::rates(tx)?;
        let one = tax::named(&known, "tax", input.tax.as_deref())?;
        let mut rates = Self {
            all: vec![one],
            of: [0; 3],
        };
        let mut is_set = [false; 3];
        for text in &input.tax_on {
            let (part, name) = text.split_once('=').ok_or_else(|| {
                invalid(
                    "tax_on",
                    format!("\"{text}\" names no part; write materials=reduced"),
                )
            })?;
            let part = part.trim().to_lowercase();
            let parts = rates.of.iter_mut().zip(&mut is_set).zip(PARTS);
            let Some(((of, is_set), _)) = parts.into_iter().find(|(_, name)| *name == part) else {
                let detail = format!(
                    "\"{part}\" is not a part of a price; choose from {}",
                    PARTS.join(", ")
                );
                return Err(invalid("tax_on", detail));
            };
            if std::mem::replace(is_set, true) {
                return Err(invalid(
                    "tax_on",
                    format!("the rate of {part} is given twice"),
                ));
            }
            let rate = tax::named(&known, "tax_on", Some(name))?;
            let at = rates
                .all
                .iter()
                .position(|known| known.name() == rate.name());
            *of = at.unwrap_or(rates.all.len());
            if at.is_none() {
                rates.all.push(rate);
            }
        }
        Ok(rates)
    }
}
