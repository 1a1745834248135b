//! `ellwand workshop`: settings and rates.

mod close;
mod figures;
mod pay_rate;
mod spent;
mod tax_reclaim;
