//! Quantities: lengths, masses, counts, minutes, stock value; how they are typed and printed.

mod error;
pub mod exact;
pub(crate) mod fraction;
mod length;
mod mass;
mod money;
pub mod parse;
mod ppm;
pub(crate) mod print;
mod small;
mod tex;
mod typed;
mod value;

pub use error::QuantityError;
pub use length::{Micrometres, PARTS_PER_MILLION};
pub use mass::{Milligrams, MilligramsPerM2};
pub use money::{Currency, CurrencyError, HourlyRate, Money, MoneyError, Rate};
pub use ppm::{PartsPerMillion, ShownPercent};
pub use print::{Units, decimal_m2, show_area};
pub use small::{Count, Minutes};
pub use tex::{Tex, YarnCount};
pub use typed::AsTyped;
pub use value::Millionths;
