//! Suppliers and customers; they appear by use.

use crate::desk::{
    Desk, Entry, counter,
    failure::{Done, Failure, invalid, not_found},
    perform::Perform,
    trace::{self, Traced},
};
use ellwand_contract::{
    Problem, ProblemType,
    parties::{
        Customer, Customers, EditCustomer, EditSupplier, ListCustomers, ListSuppliers, Supplier,
        Suppliers,
    },
    text,
};
use ellwand_domain::{
    code::{CustomerCode, SupplierCode},
    setting::{BookingKind, Facet},
};
use ellwand_storage::{Trace, Tx};

/// A name with single spaces; refused when there is nothing in it or too much.
pub(crate) fn clean_name(field: &str, text: &str) -> Done<String> {
    Ok(text::clean_name(field, text)?)
}

fn exists(what: &str, name: &str, code: impl std::fmt::Display) -> Failure {
    Problem::new(
        ProblemType::AlreadyExists,
        format!("{what} \"{name}\" already exists: {code}"),
    )
    .field("name")
    .hint("use that code, or another --name")
    .into()
}

const NAME: &str = "name";
/// What an edit can change of a supplier or a customer.
pub(crate) const PARTS: [&str; 2] = [NAME, "note"];

/// Books what an edit wrote over. Names are in no booking's sentence, so that they can be erased.
fn book_edit(
    desk: &mut Desk<'_>,
    facet: Facet,
    (id, code): (i64, &str),
    changed: Vec<(&str, String)>,
) -> Done<()> {
    if changed.is_empty() {
        return Ok(());
    }
    let parts: Vec<&str> = changed.iter().map(|(part, _)| *part).collect();
    let summary = format!("Edited the {} of {code}.", parts.join(" and the "));
    let mut entry = Entry::new(BookingKind::Edited, desk.context.today, summary);
    for (part, was) in changed {
        let wrote = Traced::wrote(facet, id, &was)?;
        entry.traces.push(wrote.part(part));
    }
    let booking = desk.next_booking()?;
    desk.book(booking, entry)
}

/// Puts a part of a supplier or customer back.
pub(crate) fn put_back(desk: &mut Desk<'_>, trace: &Trace) -> Done<()> {
    match trace.facet {
        Facet::Supplier => supplier_back(desk, trace),
        _ => customer_back(desk, trace),
    }
}

/// A row that a name is enough to make.
trait Party {
    type View;
    fn from_name(id: i64, name: String) -> Self;
    fn view(self) -> Self::View;
    /// Remembers the name that is given up: it still finds the record.
    fn remember(&self, tx: &mut Tx<'_>) -> Done<()>;
}

/// The customer of a garment, by code or name; a new name makes one.
pub(crate) fn named_customer(tx: &mut Tx<'_>, text: &str) -> Done<i64> {
    if text.trim().is_empty() {
        let detail = "the customer has no name; leave it out to make it for stock";
        return Err(invalid("customer", detail));
    }
    Ok(find_or_make_customer(tx, text)?.id)
}

macro_rules! party {
    (
        $row:ty, $code:ty, $view:ident { $key:ident }, $edit:ty, $list:ty => $all:ident,
        $known:ident, $make:ident, $find:ident, $renamed:ident, $one:ident, $named:ident, $once:ident, $save:ident, $every:ident, $counter:path,
        $noun:literal, $facet:path, $back:ident
    ) => {
        #[doc = concat!("Says how a ", $noun, " is called now that was found by a name of before.")]
        pub(crate) fn $renamed(tx: &mut Tx<'_>, text: Option<&String>) -> Done<Option<String>> {
            let Some(text) = text.filter(|text| text.parse::<$code>().is_err()) else {
                return Ok(None);
            };
            let (row, typed) = ($make(tx, text)?, clean_name($noun, text)?);
            let code = <$code>::new(row.id);
            Ok((row.name != typed).then(|| format!("{typed} is called {} now ({code})", row.name)))
        }

        #[doc = concat!("The ", $noun, " of a code or name, also of one that it had before; none of a name that is new.")]
        fn $known(tx: &mut Tx<'_>, text: &str) -> Done<Option<$row>> {
            if let Ok(code) = text.trim().parse::<$code>() {
                let known = tx.$one(code.get())?;
                let hint = concat!("see ellwand ", $noun, " list for those there are");
                return known.map(Some).ok_or_else(|| not_found(format!("{} {code}", $noun), hint));
            }
            let name = clean_name($noun, text)?;
            if let Some(known) = tx.$named(&name)? {
                return Ok(Some(known));
            }
            let mut once = tx.$once(&name)?;
            if let [first, second, ..] = once.as_slice() {
                let (first, second) = (<$code>::new(first.id), <$code>::new(second.id));
                let hint = format!("give the code of the one that is meant: {first} or {second}");
                let detail = format!("{name} was the name of both {first} and {second}");
                return Err(Problem::from(invalid($noun, detail))
                    .hint(hint)
                    .into());
            }
            Ok(once.pop())
        }

        #[doc = concat!("The ", $noun, " of a code or name; a new name makes one.")]
        pub(crate) fn $make(tx: &mut Tx<'_>, text: &str) -> Done<$row> {
            if let Some(known) = $known(tx, text)? {
                return Ok(known);
            }
            let made = <$row>::from_name(tx.next_numbers($counter, 1)?, clean_name($noun, text)?);
            tx.$save(&made)?;
            Ok(made)
        }

        #[doc = concat!("The ", $noun, " of a code or name; a name that is not known is refused with the nearest.")]
        pub(crate) fn $find(tx: &mut Tx<'_>, text: &str) -> Done<$row> {
            if let Some(known) = $known(tx, text)? {
                return Ok(known);
            }
            let (name, rows) = (clean_name($noun, text)?, tx.$every()?);
            let same = |row: &$row| row.name.to_lowercase() == name.to_lowercase();
            if let Some(known) = rows.iter().find(|row| same(row)) {
                return Ok(known.clone());
            }
            let names: Vec<String> = rows.into_iter().map(|row| row.name).collect();
            let near = text::nearest(&name, &names).map(|near| format!("did you mean {near}? "));
            let hint = near.unwrap_or_default() + concat!("see ellwand ", $noun, " list for those there are");
            Err(not_found(format!("{} called \"{name}\"", $noun), &hint))
        }

        impl Perform for $list {
            fn perform(&self, desk: &mut Desk<'_>) -> Result<$all, Failure> {
                Ok($all {
                    $every: desk.tx.$every()?.into_iter().map(Party::view).collect(),
                })
            }
        }

        impl Perform for $edit {
            fn perform(&self, desk: &mut Desk<'_>) -> Result<$view, Failure> {
                let mut row = $find(desk, &self.$key)?;
                let (code, was) = (<$code>::new(row.id), row.clone());
                if let Some(name) = &self.name {
                    let name = clean_name("name", name)?;
                    if name.parse::<$code>().is_ok() {
                        return Err(invalid("name", format!("\"{name}\" is a code, not a name")));
                    }
                    if let Some(other) = desk.tx.$named(&name)?.filter(|other| other.id != row.id) {
                        return Err(exists($noun, &name, <$code>::new(other.id)));
                    }
                    if row.name != name {
                        row.remember(desk)?;
                        row.name = name;
                    }
                }
                if self.note.is_some() {
                    let note = text::clean_text("note", "note", text::NOTE, self.note.as_ref())?;
                    row.note = note.unwrap_or_default();
                }
                desk.tx.$save(&row)?;
                let were = [(was.name, &row.name), (was.note, &row.note)];
                let parts = PARTS.into_iter().zip(were);
                let changed = parts.filter(|(_, (was, is))| was != *is);
                let changed = changed.map(|(part, (was, _))| (part, was)).collect();
                book_edit(desk, $facet, (row.id, &code.to_string()), changed)?;
                Ok(row.view())
            }
        }

        /// Makes a part of the record what it was; refused where another has the name now.
        fn $back(desk: &mut Desk<'_>, trace: &Trace) -> Done<()> {
            let Some(mut row) = desk.tx.$one(trace.subject_id)? else {
                return Ok(());
            };
            let was: String = trace::was(trace)?;
            if trace.part != NAME {
                row.note = was;
                return Ok(desk.tx.$save(&row)?);
            }
            if let Some(other) = desk.tx.$named(&was)?.filter(|other| other.id != row.id) {
                return Err(exists($noun, &was, <$code>::new(other.id)));
            }
            row.remember(desk)?;
            row.name = was;
            Ok(desk.tx.$save(&row)?)
        }
    };
}

impl Party for ellwand_storage::Supplier {
    type View = Supplier;
    fn from_name(id: i64, name: String) -> Self {
        Self {
            id,
            name,
            note: String::new(),
        }
    }
    fn view(self) -> Supplier {
        Supplier {
            supplier: SupplierCode::new(self.id),
            name: self.name,
            note: self.note,
        }
    }
    fn remember(&self, tx: &mut Tx<'_>) -> Done<()> {
        Ok(tx.remember_supplier_name(self.id, &self.name)?)
    }
}

impl Party for ellwand_storage::Customer {
    type View = Customer;
    fn from_name(id: i64, name: String) -> Self {
        Self {
            id,
            name,
            note: String::new(),
        }
    }
    fn view(self) -> Customer {
        Customer {
            customer: CustomerCode::new(self.id),
            name: self.name,
            note: self.note,
        }
    }
    fn remember(&self, tx: &mut Tx<'_>) -> Done<()> {
        Ok(tx.remember_name(self.id, &self.name)?)
    }
}

party!(
    ellwand_storage::Supplier, SupplierCode, Supplier { supplier }, EditSupplier, ListSuppliers => Suppliers,
    known_supplier, find_or_make_supplier, find_supplier, renamed_supplier, supplier, supplier_named, suppliers_once_named, save_supplier, suppliers, counter::SUPPLIER, "supplier",
    Facet::Supplier, supplier_back
);
party!(
    ellwand_storage::Customer, CustomerCode, Customer { customer }, EditCustomer, ListCustomers => Customers,
    known_customer, find_or_make_customer, find_customer, renamed_customer, customer, customer_named, customers_once_named, save_customer, customers, counter::CUSTOMER, "customer",
    Facet::Customer, customer_back
);
