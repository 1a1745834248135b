//! The workshop's tax rates.

use crate::desk::failure::{Done, invalid};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    pricing::{PricingError, TaxRate},
    quantity::PartsPerMillion,
};
use ellwand_storage::Tx;

/// Rate that stands where the workshop has none; it is never shown.
pub(crate) const UNTAXED: &str = "without tax";

/// The rates in the order they were added.
pub(crate) fn rates(tx: &mut Tx<'_>) -> Done<Vec<TaxRate>> {
    let rows = tx.tax_rates()?.into_iter();
    rows.map(|row| rate(&row.name, PartsPerMillion::new(row.ppm)?))
        .collect()
}

/// The rate of a name, else the first; untaxed where there is none, or `none` is named.
pub(crate) fn named(known: &[TaxRate], field: &str, name: Option<&str>) -> Done<TaxRate> {
    let untaxed = || rate(UNTAXED, PartsPerMillion::ZERO);
    let Some(name) = name.map(str::trim) else {
        return known.first().cloned().map_or_else(untaxed, Ok);
    };
    let found = known
        .iter()
        .find(|rate| rate.name().eq_ignore_ascii_case(name));
    if found.is_none() && name.eq_ignore_ascii_case("none") {
        return untaxed();
    }
    found.cloned().ok_or_else(|| {
        let names: Vec<&str> = known.iter().map(TaxRate::name).collect();
        let (there_is, hint) = match names.is_empty() {
            true => (
                "none yet".to_owned(),
                "add it with ellwand workshop tax VAT 20%",
            ),
            false => (
                names.join(", "),
                "name one of these, or add it with ellwand workshop tax VAT 20%",
            ),
        };
        let detail = format!("there is no tax rate {name}; there is {there_is}");
        Problem::from(invalid(field, detail)).hint(hint).into()
    })
}

fn rate(name: &str, share: PartsPerMillion) -> Done<TaxRate> {
    let internal = |error: PricingError| Problem::new(ProblemType::Internal, error.to_string());
    Ok(TaxRate::new(name, share).map_err(internal)?)
}
