//! What goods were sold for.

use super::Shown;
use ellwand_contract::goods::Sale;

/// `sold to Ada (C1) for 18.00 EUR, VAT 20 % 3.00 in it; cost 7.20, gain 7.80`; of what had no price neither of these.
#[must_use]
pub fn sentence(shown: Shown, sale: &Sale) -> String {
    let to = match (&sale.customer, &sale.customer_name) {
        (Some(code), Some(name)) => format!(" to {name} ({code})"),
        (Some(code), None) => format!(" to {code}"),
        _ => String::new(),
    };
    let tax = sale.tax_rate.as_ref();
    let tax = tax.map_or_else(String::new, |rate| format!(", {rate} {} in it", sale.tax));
    let worth = match (&sale.cost, &sale.gain) {
        (Some(cost), Some(gain)) => match gain.strip_prefix('-') {
            Some(loss) => format!("cost {cost}, loss {loss}"),
            None => format!("cost {cost}, gain {gain}"),
        },
        _ => "cost and gain not known".to_owned(),
    };
    format!(
        "sold{to} for {} {}{tax}; {worth}",
        sale.gross,
        shown.currency()
    )
}
