//! Money as it stands on invoices: an ISO 4217 currency and whole minor units; exchange and hourly rates.

mod amount;
mod currency;
mod rate;

pub use amount::{Money, MoneyError};
pub use currency::{Currency, CurrencyError};
pub use rate::{HourlyRate, Rate};
