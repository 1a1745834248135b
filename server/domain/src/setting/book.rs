//! Words of the book: what was booked, who may do what.

use super::words;

words!(
    /// What a booking touched, for the history of a record.
    Subject, "a subject of a booking", {
        /// A garment.
        Garment = "garment",
        /// A lot.
        Lot = "lot",
        /// A purchase.
        Purchase = "purchase",
    }
);

words!(
    /// Units people read.
    UnitSystem, "a system of units", {
        /// Metres, centimetres, grams.
        Metric = "metric",
        /// Yards, inches, ounces.
        Imperial = "imperial",
    }
);
words!(
    /// What comes first in a date with slashes, `3/10/2026`.
    DateOrder, "an order of dates", {
        /// The day: 3 October.
        DayFirst = "day-first",
        /// The month: 10 March.
        MonthFirst = "month-first",
    }
);
words!(
    /// What a picture is.
    PictureKind, "a kind of picture", {
        /// Pixels.
        Png = "png",
        /// Shapes.
        Svg = "svg",
    }
);
words!(
    /// What a booking did.
    BookingKind, "a kind of booking", {
        /// A purchase came in.
        Bought = "bought",
        /// A late charge or credit.
        Charged = "charged",
        /// A lot's sheet changed, or a supplier or a customer.
        Edited = "edited",
        /// A piece was put elsewhere.
        Placed = "placed",
        /// A flaw was marked or taken away.
        Flawed = "flawed",
        /// A piece was made into two.
        Split = "split",
        /// A piece was measured or weighed, or a customer was measured.
        Measured = "measured",
        /// A wash test.
        Tested = "tested",
        /// A piece was washed or steamed.
        Prepared = "prepared",
        /// A garment was planned or its plan changed.
        Planned = "planned",
        /// Cloth was promised.
        Reserved = "reserved",
        /// A promise was given back.
        Released = "released",
        /// A promise's day had passed.
        Expired = "expired",
        /// Cloth was cut or trims were taken.
        Cut = "cut",
        /// Minutes were worked.
        Worked = "worked",
        /// A garment was finished.
        Finished = "finished",
        /// A garment was delivered.
        Delivered = "delivered",
        /// A garment was cancelled.
        Cancelled = "cancelled",
        /// A quotation was made, or a new version of it.
        Quoted = "quoted",
        /// A version of a quotation was accepted.
        Accepted = "accepted",
        /// A payment was logged.
        Paid = "paid",
        /// A quotation was closed or cancelled.
        Dropped = "dropped",
        /// A lay was kept.
        Laid = "laid",
        /// A detail was rated.
        Rated = "rated",
        /// The books were closed up to a day.
        Closed = "closed",
        /// A setting, a rate or a usual operation was changed.
        Set = "set",
        /// A person was let in with a token.
        LetIn = "let-in",
        /// Tokens were revoked.
        Revoked = "revoked",
        /// A customer's name was erased.
        Erased = "erased",
        /// Another booking was taken back.
        Undone = "undone",
        /// Goods of the shelf were given away, or taken for own use.
        Given = "given",
        /// Goods of the shelf were sold.
        Sold = "sold",
        /// Goods of the shelf were discarded.
        Discarded = "discarded",
    }
);

impl BookingKind {
    /// True for what takes material off the shelf for good: later takings do not rest on it.
    #[must_use]
    pub const fn takes(self) -> bool {
        matches!(self, Self::Cut) || self.disposes()
    }

    /// True for what takes material off the shelf for no garment.
    #[must_use]
    pub const fn disposes(self) -> bool {
        matches!(self, Self::Given | Self::Sold | Self::Discarded)
    }
}
words!(
    /// What an act can write over: it belongs to the last standing booking that did.
    Facet, "a facet", {
        /// Where a piece lies.
        Place = "place",
        /// Recorded length or count of a piece.
        Length = "length",
        /// The flaws of a piece.
        Flaws = "flaws",
        /// What a piece measures across.
        Widths = "widths",
        /// What was done to a piece before it is cut.
        Preparation = "preparation",
        /// What the empty reel or core of a piece weighs.
        Tare = "tare",
        /// A field of a lot's sheet.
        Sheet = "sheet",
        /// The plan of a garment.
        Plan = "plan",
        /// How far a garment has come.
        Garment = "garment",
        /// What became of a quotation.
        Quotation = "quotation",
        /// What a detail of a garment was worth.
        Rating = "rating",
        /// Up to when the books are closed.
        Books = "books",
        /// Where the shares of a late charge lie.
        Charge = "charge",
        /// A setting of the workshop, by its name.
        Setting = "setting",
        /// Name or note of a supplier.
        Supplier = "supplier",
        /// Name, least level or sheet of a material.
        Material = "material",
        /// Name or note of a customer.
        Customer = "customer",
        /// Whether a token opens the book.
        Token = "token",
    }
);
words!(
    /// What a person of the workshop may do.
    Role, "a role", {
        /// Everything.
        Owner = "owner",
        /// The daily work, and what is granted beside it.
        Maker = "maker",
        /// The daily work, without prices: nothing is planned, bought, quoted or sold. Nothing is granted beside it.
        Apprentice = "apprentice",
        /// Reading, without prices unless granted.
        Viewer = "viewer",
    }
);
words!(
    /// What is granted beside a role.
    Grant, "a grant", {
        /// To see prices, costs and stock values.
        Prices = "prices",
        /// To see and set what hours cost, and so the cost sheet.
        PayRates = "pay-rates",
        /// To give up cut material that no other garment takes over; to give away, sell or discard what is on the shelf; and
        /// to take that back. What a day's work spoils, and what a new measure finds missing, is daily work.
        WriteOffs = "write-offs",
        /// To change the workshop's settings.
        Settings = "settings",
        /// To close the books, and to prove them.
        Books = "books",
        /// To give out tokens and take them back.
        People = "people",
    }
);
