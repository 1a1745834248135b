//! The queries of settings, rates and the overhead.

use super::Tx;
use crate::error::StorageError;
use crate::records::{
    Customer, CustomerMeasure, DayWork, KindPayRate, Logo, OverheadRate, OverheadSpent, PayRate,
    Supplier, TaxRate, TaxReclaim, UsualOperation, WorkEntry, WorkReversal, Workshop,
    YearlyFigures,
};
use chrono::{NaiveDate, NaiveDateTime};
use ellwand_domain::setting::WorkKind;

queries! {
    workshop {
        /// The settings, once there are any.
        workshop() -> Option<Workshop>;
        /// The settings, once there are any, and when the last booking was made.
        workshop_and_last() -> (Option<Workshop>, Option<NaiveDateTime>);
        /// Writes the settings.
        save_workshop(workshop: &Workshop) -> ();
        /// Takes `count` numbers of a kind and returns the first.
        next_numbers(kind: &str, count: i64) -> i64;
        /// Pay rates, newest first.
        pay_rates() -> Vec<PayRate>;
        /// Rates of a person for all work, newest first.
        pay_rates_of(person: i64) -> Vec<PayRate>;
        /// Writes a rate; one of the same person and day is replaced.
        save_pay_rate(rate: &PayRate) -> ();
        /// Takes a rate out; false when there is none of the person and day.
        delete_pay_rate(person: i64, from: NaiveDate) -> bool;
        /// Pay rates of kinds of work, newest first.
        kind_pay_rates() -> Vec<KindPayRate>;
        /// Rates of a person at kinds of work, newest first.
        kind_pay_rates_of(person: i64) -> Vec<KindPayRate>;
        /// Writes a rate; one of the same person, kind and day is replaced.
        save_kind_pay_rate(rate: &KindPayRate) -> ();
        /// Takes a rate out; false when there is none of the person, kind and day.
        delete_kind_pay_rate(person: i64, kind: WorkKind, from: NaiveDate) -> bool;
        /// Overhead rates, newest first.
        overhead_rates() -> Vec<OverheadRate>;
        /// The overhead rate on a day.
        overhead_rate_on(day: NaiveDate) -> Option<OverheadRate>;
        /// Writes a rate; one of the same day is replaced.
        save_overhead_rate(rate: &OverheadRate) -> ();
        /// Takes out the overhead rate from a day on.
        delete_overhead_rate(from: NaiveDate) -> ();
        /// Takes out a year's figures from a day on.
        delete_yearly_figures(from: NaiveDate) -> ();
        /// A year's figures by the day from which they count, newest first.
        yearly_figures() -> Vec<YearlyFigures>;
        /// The year's figures on a day.
        yearly_figures_on(day: NaiveDate) -> Option<YearlyFigures>;
        /// Writes a year's figures; those of the same day are replaced.
        save_yearly_figures(figures: &YearlyFigures) -> ();
        /// Tax rates in the order they were added.
        tax_rates() -> Vec<TaxRate>;
        /// Writes a tax rate; one of the same name keeps its number.
        save_tax_rate(rate: &TaxRate) -> ();
        /// Takes a tax rate out; false when there is none of the name.
        delete_tax_rate(name: &str) -> bool;
        /// Whether tax on purchases is reclaimed, newest first.
        tax_reclaims() -> Vec<TaxReclaim>;
        /// What of it counts on a day.
        tax_reclaim_on(day: NaiveDate) -> Option<TaxReclaim>;
        /// Writes it; what counted from the same day is replaced.
        save_tax_reclaim(reclaim: &TaxReclaim) -> ();
        /// Takes it out; false when nothing counts from that day.
        delete_tax_reclaim(from: NaiveDate) -> bool;
        /// A logo.
        logo(id: i64) -> Option<Logo>;
        /// The logo of a picture.
        logo_like(picture: &str) -> Option<Logo>;
        /// Adds a logo.
        insert_logo(logo: &Logo) -> ();
        /// Usual operations by name.
        usual_operations() -> Vec<UsualOperation>;
        /// The usual operation of a name, whatever its capitals.
        usual_operation(name: &str) -> Option<UsualOperation>;
        /// Writes a usual operation; one of the same name is replaced.
        save_usual_operation(operation: &UsualOperation) -> ();
        /// Takes a usual operation out; false when there is none of the name.
        delete_usual_operation(name: &str) -> bool;
        /// Suppliers by name.
        suppliers() -> Vec<Supplier>;
        /// One supplier.
        supplier(id: i64) -> Option<Supplier>;
        /// The supplier of a name.
        supplier_named(name: &str) -> Option<Supplier>;
        /// Writes a supplier.
        save_supplier(supplier: &Supplier) -> ();
        /// Customers by name.
        customers() -> Vec<Customer>;
        /// One customer.
        customer(id: i64) -> Option<Customer>;
        /// The customer of a name.
        customer_named(name: &str) -> Option<Customer>;
        /// Writes a customer.
        save_customer(customer: &Customer) -> ();
        /// Customers that had a name before.
        customers_once_named(name: &str) -> Vec<Customer>;
        /// Suppliers that had a name before.
        suppliers_once_named(name: &str) -> Vec<Supplier>;
        /// Remembers a name that a supplier had.
        remember_supplier_name(supplier: i64, name: &str) -> ();
        /// Names that a customer had before.
        former_names(customer: i64) -> Vec<String>;
        /// Remembers a name that a customer had.
        remember_name(customer: i64, name: &str) -> ();
        /// Forgets the names that a customer had.
        forget_names(customer: i64) -> ();
        /// Writes a measurement of a customer.
        insert_measure(measure: &CustomerMeasure) -> ();
        /// Measurements of a customer that stand, the oldest first.
        measures_of(customer: i64) -> Vec<CustomerMeasure>;
        /// Takes all measurements of a customer out.
        delete_measures(customer: i64) -> ();
    }
    overhead {
        /// Periods for which overhead spent is kept, newest first.
        overhead_spent() -> Vec<OverheadSpent>;
        /// Writes what was spent; what was kept for the same days is replaced.
        save_overhead_spent(spent: &OverheadSpent) -> ();
        /// Takes what was kept for these days out; false when there is nothing.
        delete_overhead_spent(from: NaiveDate, to: NaiveDate) -> bool;
        /// Minutes logged on the days of a period, and what counts there as taken back, by the days of the work.
        work_between(from: NaiveDate, to: NaiveDate) -> Vec<DayWork>;
        /// Billable work of finished and delivered garments from a day on, in order.
        final_work(from: NaiveDate) -> Vec<WorkEntry>;
        /// Writes that minutes are taken back, or given again.
        insert_work_reversal(reversal: &WorkReversal) -> ();
        /// Where minutes were taken back or given again, in order.
        work_reversals(work: i64) -> Vec<WorkReversal>;
    }
}
