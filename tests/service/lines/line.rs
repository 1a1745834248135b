//! The words of a line, and the request that each is.

use super::{
    Answer, Asking,
    lay::Laying,
    money::{Buying, QuoteAct, WorkshopAct},
    plan::{Cancelling, Editing, Planning, Reserving},
    stock::{Cutting, WashAct, Working},
};
use chrono::NaiveDate;
use clap::{Args, Subcommand};
use ellwand_contract::{
    audit::RunAudit,
    bookings::{GetBooking, GetLastBooking, ListBookings, Undo},
    costs::GetCost,
    garments::{
        CopyGarment, DeliverGarment, FinishGarment, GetCandidates, GetGarment, ListGarments,
    },
    goods::{DiscardGoods, GiveGoods, SellGoods},
    lots::{
        EditLot, GetLot, MarkFlaw, MeasurePiece, PlacePiece, RemoveFlaw, SplitPiece, WeighPiece,
    },
    measures::{GetCustomer, MeasureCustomer},
    month::GetMonth,
    operations::GetEstimates,
    operations::{ForgetOperation, ListOperations, SetOperation},
    parties::{EditCustomer, EditSupplier, EraseCustomer, ListCustomers, ListSuppliers},
    people::{GetPerson, SetPerson},
    purchases::PriceLot,
    reservations::{ListReservations, Release},
    seams::GetSeams,
    sheets::{EditMaterial, ListMaterials},
    shelf::GetShelf,
    stiffness::{GetStiffness, TestStiffness},
};
use ellwand_domain::code::BookingCode;
use uuid::Uuid;

#[derive(Subcommand)]
pub enum Act {
    Buy(Buying),
    Candidates(GetCandidates),
    Lay(Laying),
    Keep(Laying),
    Reserve(Reserving),
    Release(Release),
    Cut(Cutting),
    Work(Working),
    Give(GiveGoods),
    Sell(SellGoods),
    Discard(DiscardGoods),
    Cost(GetCost),
    Undo {
        booking: Option<BookingCode>,
        #[arg(long)]
        together: bool,
        #[arg(long)]
        date: Option<NaiveDate>,
    },
    Shelf(Shelf),
    History(History),
    Audit(RunAudit),
    Month(GetMonth),
    #[command(subcommand)]
    Garment(GarmentAct),
    #[command(subcommand)]
    Lot(LotAct),
    #[command(subcommand)]
    Wash(WashAct),
    #[command(subcommand)]
    Quote(QuoteAct),
    Workshop {
        #[command(subcommand)]
        act: Option<WorkshopAct>,
    },
    #[command(subcommand)]
    Material(MaterialAct),
    #[command(subcommand)]
    Customer(CustomerAct),
    #[command(subcommand)]
    Supplier(SupplierAct),
    #[command(subcommand)]
    Operation(OperationAct),
    #[command(subcommand)]
    Person(PersonAct),
}

#[derive(Args)]
pub struct Shelf {
    #[command(flatten)]
    act: GetShelf,
    #[arg(long)]
    all: bool,
}

#[derive(Args)]
pub struct History {
    booking: Option<BookingCode>,
    #[command(flatten)]
    list: ListBookings,
    #[arg(long)]
    all: bool,
}

#[derive(Subcommand)]
pub enum GarmentAct {
    Plan(Planning),
    List(ListGarments),
    Show(GetGarment),
    Promises(ListReservations),
    Seams(GetSeams),
    Edit(Editing),
    Copy(CopyGarment),
    Estimate(GetEstimates),
    Finish(FinishGarment),
    Deliver(DeliverGarment),
    Cancel(Cancelling),
}

#[derive(Subcommand)]
#[expect(clippy::large_enum_variant, reason = "one is made a line")]
pub enum LotAct {
    Show(GetLot),
    Edit(EditLot),
    Place(PlacePiece),
    Price(PriceLot),
    Flaw(MarkFlaw),
    FlawRemove(RemoveFlaw),
    Split(SplitPiece),
    Measure(MeasurePiece),
    Weigh {
        #[command(flatten)]
        act: WeighPiece,
        mass: Option<String>,
        #[arg(long)]
        gross: Option<String>,
    },
    Stiffness(TestStiffness),
}

#[derive(Subcommand)]
#[expect(clippy::large_enum_variant, reason = "one is made a line")]
pub enum MaterialAct {
    List(ListMaterials),
    Edit(EditMaterial),
}

#[derive(Subcommand)]
pub enum CustomerAct {
    List(ListCustomers),
    Show(GetCustomer),
    Measure(MeasureCustomer),
    Edit(EditCustomer),
    Erase(EraseCustomer),
}

#[derive(Subcommand)]
pub enum SupplierAct {
    List(ListSuppliers),
    Edit(EditSupplier),
}

#[derive(Subcommand)]
pub enum OperationAct {
    List(ListOperations),
    Set(SetOperation),
    Forget(ForgetOperation),
}

#[derive(Subcommand)]
pub enum PersonAct {
    Show(GetPerson),
    Set {
        #[command(flatten)]
        act: SetPerson,
        #[arg(long)]
        own: bool,
    },
}

impl Act {
    pub fn ask(self, asking: &Asking<'_>) -> Answer {
        match self {
            Self::Buy(buying) => buying.ask(asking),
            Self::Candidates(act) => asking.ask(act),
            Self::Lay(laying) => laying.ask(asking),
            Self::Keep(laying) => laying.keep(asking),
            Self::Reserve(reserving) => reserving.ask(asking),
            Self::Release(act) => asking.ask(act),
            Self::Cut(cutting) => asking.ask(cutting.act()),
            Self::Work(working) => asking.ask(working.act()),
            Self::Give(act) => asking.ask(act),
            Self::Sell(act) => asking.ask(act),
            Self::Discard(act) => asking.ask(act),
            Self::Cost(act) => asking.ask(act),
            Self::Undo {
                booking,
                together,
                date,
            } => {
                let booking = match booking {
                    Some(booking) => booking,
                    None => asking.call(&GetLastBooking::default())?.booking,
                };
                asking.ask(Undo {
                    id: Uuid::nil(),
                    booking,
                    together,
                    date,
                })
            }
            Self::Shelf(Shelf { mut act, all }) => {
                act.limit = act.limit.or(all.then_some(500));
                asking.ask(act)
            }
            Self::History(History {
                booking,
                mut list,
                all,
            }) => match booking {
                Some(booking) => asking.ask(GetBooking { booking }),
                None => {
                    list.limit = list.limit.or(all.then_some(500));
                    asking.ask(list)
                }
            },
            Self::Audit(act) => asking.ask(act),
            Self::Month(act) => asking.ask(act),
            Self::Garment(act) => act.ask(asking),
            Self::Lot(act) => act.ask(asking),
            Self::Wash(act) => act.ask(asking),
            Self::Quote(act) => act.ask(asking),
            Self::Workshop { act } => WorkshopAct::ask(act, asking),
            Self::Material(MaterialAct::List(act)) => asking.ask(act),
            Self::Material(MaterialAct::Edit(act)) => asking.ask(act),
            Self::Customer(CustomerAct::List(act)) => asking.ask(act),
            Self::Customer(CustomerAct::Show(act)) => asking.ask(act),
            Self::Customer(CustomerAct::Measure(act)) => asking.ask(act),
            Self::Customer(CustomerAct::Edit(act)) => asking.ask(act),
            Self::Customer(CustomerAct::Erase(act)) => asking.ask(act),
            Self::Supplier(SupplierAct::List(act)) => asking.ask(act),
            Self::Supplier(SupplierAct::Edit(act)) => asking.ask(act),
            Self::Operation(OperationAct::List(act)) => asking.ask(act),
            Self::Operation(OperationAct::Set(act)) => asking.ask(act),
            Self::Operation(OperationAct::Forget(act)) => asking.ask(act),
            Self::Person(PersonAct::Show(act)) => asking.ask(act),
            Self::Person(PersonAct::Set { act, .. }) => asking.ask(act),
        }
    }
}

impl GarmentAct {
    fn ask(self, asking: &Asking<'_>) -> Answer {
        match self {
            Self::Plan(planning) => asking.ask(planning.act()),
            Self::List(act) => asking.ask(act),
            Self::Show(act) => asking.ask(act),
            Self::Promises(act) => asking.ask(act),
            Self::Seams(act) => asking.ask(act),
            Self::Edit(editing) => asking.ask(editing.act()),
            Self::Copy(act) => asking.ask(act),
            Self::Estimate(act) => asking.ask(act),
            Self::Finish(act) => asking.ask(act),
            Self::Deliver(act) => asking.ask(act),
            Self::Cancel(cancelling) => asking.ask(cancelling.act()),
        }
    }
}

impl LotAct {
    fn ask(self, asking: &Asking<'_>) -> Answer {
        match self {
            Self::Show(act) => asking.ask(act),
            Self::Edit(act) => asking.ask(act),
            Self::Place(act) => asking.ask(act),
            Self::Price(act) => asking.ask(act),
            Self::Flaw(act) => asking.ask(act),
            Self::FlawRemove(act) => asking.ask(act),
            Self::Split(act) => asking.ask(act),
            Self::Measure(act) => asking.ask(act),
            Self::Weigh {
                mut act,
                mass,
                gross,
            } => {
                act.gross = mass.or(gross).unwrap();
                asking.ask(act)
            }
            Self::Stiffness(act) => {
                let strips = [&act.lengthwise, &act.crosswise, &act.bias];
                if strips.into_iter().all(Vec::is_empty) {
                    asking.ask(GetStiffness { lot: act.lot })
                } else {
                    asking.ask(act)
                }
            }
        }
    }
}
