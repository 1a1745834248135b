//! Why a cost layer was left alone.

use crate::quantity::QuantityError;

/// Why a receipt or a use of pooled material was refused. Quantities are in the material's smallest unit.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LayerError {
    /// Zero or less was to be moved.
    #[error("a quantity of {quantity} cannot be moved; it must be more than zero")]
    NotPositive {
        /// Quantity requested.
        quantity: i64,
    },
    /// A receipt worth less than nothing.
    #[error("a receipt cannot be worth less than zero; a gift is worth 0")]
    NegativeValue,
    /// More was requested than is there.
    #[error("only {available} of the {wanted} wanted is there; take less or receive more first")]
    Overdraw {
        /// Quantity requested.
        wanted: i64,
        /// Quantity there.
        available: i64,
    },
    /// A layer that the material does not have.
    #[error("the material has no cost layer {layer}")]
    UnknownLayer {
        /// Identity requested.
        layer: i64,
    },
    /// A layer received twice.
    #[error("the material already has a cost layer {layer}")]
    ExistingLayer {
        /// Identity given.
        layer: i64,
    },
    /// Moving average over layers that were never pooled.
    #[error("a moving average has one pool, but {layers} layers hold something")]
    NotOnePool {
        /// Layers that hold something.
        layers: usize,
    },
    /// Last in, first out.
    #[error(
        "last in, first out is not allowed for stock (IAS 2 paras 23–27); use fifo or moving_average"
    )]
    LifoRefused,
    /// No valuation method.
    #[error("\"{text}\" is not a valuation method, for example fifo or moving_average")]
    UnknownMethod {
        /// What was typed.
        text: String,
    },
    /// A sum beyond the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
