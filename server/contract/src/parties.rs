//! Suppliers and customers; they appear by use.

use crate::act::act;
use ellwand_domain::code::{CustomerCode, SupplierCode};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Asks for all suppliers.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListSuppliers {}
act!(read ListSuppliers => Suppliers, "list_suppliers", "/v1/suppliers", "Lists suppliers by name.");

/// Changes a supplier's record; what is absent stays.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EditSupplier {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub supplier: SupplierCode,
    /// New name.
    pub name: Option<String>,
    /// Address, terms, anything.
    pub note: Option<String>,
}
act!(patch EditSupplier => Supplier, "edit_supplier", "/v1/suppliers/{supplier}", "Changes a supplier's record.");

/// A supplier.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Supplier {
    /// Code.
    pub supplier: SupplierCode,
    /// Name.
    pub name: String,
    /// Note.
    pub note: String,
}

/// All suppliers.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Suppliers {
    /// By name.
    pub suppliers: Vec<Supplier>,
}

/// Asks for all customers.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListCustomers {}
act!(read ListCustomers => Customers, "list_customers", "/v1/customers", "Lists customers by name.");

/// Changes a customer's record; what is absent stays.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EditCustomer {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub customer: CustomerCode,
    /// New name.
    pub name: Option<String>,
    /// Measures, address, anything.
    pub note: Option<String>,
}
act!(patch EditCustomer => Customer, "edit_customer", "/v1/customers/{customer}", "Changes a customer's record.");

/// Takes a customer's name and note out of the book for good; it cannot be taken back.
///
/// Garments, quotations and payments stay, and name the customer by the code alone.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EraseCustomer {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub customer: CustomerCode,
}
act!(post EraseCustomer => Erased, "erase_customer", "/v1/customers/{customer}/erase", "Takes a customer's name and note out of the book for good.", needs Settings);

/// What became of an erased customer.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Erased {
    /// The code, which stays.
    pub customer: CustomerCode,
    /// What stands in place of the name.
    pub name: String,
    /// Kept records of requests that were emptied with it.
    pub requests: u32,
    /// Where the name may still stand.
    pub notes: Vec<String>,
}

/// A customer.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Customer {
    /// Code.
    pub customer: CustomerCode,
    /// Name.
    pub name: String,
    /// Note.
    pub note: String,
}

/// All customers.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Customers {
    /// By name.
    pub customers: Vec<Customer>,
}
