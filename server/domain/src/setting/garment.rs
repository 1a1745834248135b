//! Words of garments, their plans and promises.

use super::words;

words!(
    /// Why garments of a batch were spoiled.
    Spoilage, "a reason for spoiled garments", {
        /// To be expected: its cost rides on the good ones.
        Normal = "normal",
        /// An own mistake: a loss, shown apart.
        OwnMistake = "own-mistake",
    }
);
words!(
    /// A direction in cloth.
    Grain, "a grain", {
        /// Along the warp.
        Lengthwise = "lengthwise",
        /// Along the weft.
        Crosswise = "crosswise",
        /// 45° to both.
        Bias = "bias",
    }
);
words!(
    /// Whether the measures of a shell part hold its seam allowance.
    Measured, "a way to measure a part", {
        /// As the shell part is cut, its seam allowance in it.
        With = "with",
        /// From seam to seam.
        Without = "without",
    }
);
words!(
    /// How a part is cut beside its seams.
    PartCut, "a way to cut a part", {
        /// Without the seam allowance, so that it lies inside the seams (common practice for canvas).
        Inside = "inside",
        /// With the seam allowance, caught in the seams.
        With = "with",
    }
);
words!(
    /// Why a piece does not serve a need, in one word.
    WhyNot, "a reason why a piece does not serve", {
        /// A condition other than those below.
        Other = "other",
        /// The need names another material.
        Material = "another-material",
        /// The need is bound to another lot.
        Lot = "another-lot",
        /// It belongs to a customer.
        Owner = "another-owner",
        /// It holds none of the fibre that the need names.
        Fibre = "another-fibre",
        /// A trim of another size.
        Size = "another-size",
        /// Another colour.
        Colour = "another-colour",
        /// Too stiff or too soft, fusible or not.
        Stiffness = "another-stiffness",
        /// Too heavy or too light.
        Mass = "another-mass",
        /// It was prepared otherwise.
        Preparation = "another-preparation",
        /// Too narrow when it is cut.
        Narrow = "too-narrow",
        /// Too little of it is free in one length.
        Short = "too-short",
        /// A figure that decides it is not known.
        Unknown = "unknown",
    }
);
words!(
    /// Where a garment is in its life.
    GarmentState, "a state of a garment", {
        /// Nothing used yet.
        Planned = "planned",
        /// Something was cut for it.
        CutInto = "cut-into",
        /// Finished, in stock.
        Finished = "finished",
        /// With the customer.
        Delivered = "delivered",
        /// Given up.
        Cancelled = "cancelled",
    }
);
words!(
    /// Where a reservation is in its life; it leaves `active` exactly once.
    ReservationState, "a state of a reservation", {
        /// Promised.
        Active = "active",
        /// Used up by cuts.
        Cut = "cut",
        /// Given back.
        Released = "released",
        /// Its day has passed.
        Expired = "expired",
        /// Another act made it impossible.
        Broken = "broken",
    }
);
words!(
    /// What a reserved length was computed on.
    Basis, "a basis of a reservation", {
        /// The piece still has to be prepared; shrinkage is in the length.
        Raw = "raw",
        /// The piece is as the need wants it.
        Prepared = "prepared",
    }
);
words!(
    /// What the length of parts comes from.
    LengthBy, "a source of a length", {
        /// A kept lay.
        Kept = "kept",
        /// The maker's own lay.
        OwnLay = "own-lay",
        /// A lay of the parts as rectangles, shorter than their rows.
        Lay = "lay",
        /// Rows of like parts.
        Rows = "rows",
    }
);
words!(
    /// Where an estimate of time comes from.
    EstimateBasis, "a source of an estimate", {
        /// Past garments of the same name.
        LikeGarments = "like-garments",
        /// Past garments of any name.
        AllGarments = "all-garments",
        /// The typical minutes of a usual operation.
        UsualOperation = "usual-operation",
        /// The garment's own plan.
        Plan = "plan",
    }
);
