//! What a period brought: its whole months and single days, and what moved in it by kind of material.

mod goods;
mod period;

pub use goods::{Flow, KindMonth, Moved, MovedError, goods, hour_of_all, in_garments};
pub use period::{Parts, Period, PeriodError, Spans};
