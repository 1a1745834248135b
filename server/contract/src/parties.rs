//! Suppliers and customers; they appear by use.

use crate::act::act;
use ellwand_domain::code::{CustomerCode, SupplierCode};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// List all suppliers by name.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListSuppliers {}
act!(read ListSuppliers => Suppliers, "list_suppliers", "/v1/suppliers", "Lists suppliers by name.");

/// Change a supplier's name or note; what is not given stays as it is.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EditSupplier {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// The supplier, by name or code: Stall, S2.
    #[cfg_attr(feature = "clap", arg(value_name = "SUPPLIER"))]
    pub supplier: String,
    /// New name.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "TEXT", required_unless_present = "note")
    )]
    pub name: Option<String>,
    /// Address, terms, anything.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
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

/// List all customers by name.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListCustomers {}
act!(read ListCustomers => Customers, "list_customers", "/v1/customers", "Lists customers by name.");

/// Change a customer's name or note; what is not given stays as it is.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EditCustomer {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// The customer, by name or code: Ada, C4.
    #[cfg_attr(feature = "clap", arg(value_name = "CUSTOMER"))]
    pub customer: String,
    /// New name.
    #[cfg_attr(
        feature = "clap",
        arg(long, value_name = "TEXT", required_unless_present = "note")
    )]
    pub name: Option<String>,
    /// Measures, address, anything.
    #[cfg_attr(feature = "clap", arg(long, value_name = "TEXT"))]
    pub note: Option<String>,
}
act!(patch EditCustomer => Customer, "edit_customer", "/v1/customers/{customer}", "Changes a customer's record.");

/// Erase a customer's name, note and measurements from the book for good.
///
/// What was made, agreed and paid stays, under the customer's code alone. Refused while something is being made for them,
/// their cloth is here, or a quotation is not settled. Names typed elsewhere, such as in the name of a garment, stay, and so
/// do backups. Local law decides what must be kept, and for how long. Undo does not bring it back.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EraseCustomer {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// The customer's code: no name is kept with the request.
    #[cfg_attr(feature = "clap", arg(value_name = "CODE"))]
    pub customer: CustomerCode,
}
act!(post EraseCustomer => Erased, "erase_customer", "/v1/customers/{customer}/erase", "Erases a customer's name, note and measurements from the book for good.", needs Settings);

/// An erased customer.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Erased {
    /// The code, which stays.
    pub customer: CustomerCode,
    /// Replacement of the name.
    pub name: String,
    /// Recorded requests that were emptied with it.
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
