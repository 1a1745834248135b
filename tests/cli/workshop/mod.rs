//! `ellwand workshop`: settings and rates.

mod close;
mod figures;
mod pay_rate;
mod price_rule;
mod set;
mod spent;
mod tax_reclaim;
