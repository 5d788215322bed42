//! Limits.

use groundrule_plan::reader::Reader;
use groundrule_plan::{At, Fault, Span};
use groundrule_units::{Quantity, Written};

use super::figure::dimension_words;
use super::{Context, NO_COMPARISON};
use crate::formula::Scope;
use crate::written::{Amount, Figure, LimitTable};
use crate::{Bound, Limit, Sense};

const COMPARISONS: &str =
    "Write one of `at_least`, `more_than`, `at_most`, `less_than`, `between` and `holds`.";

impl Context<'_> {
    /// A limit: one comparison with its figure.
    pub(super) fn limit(
        &self,
        table: LimitTable,
        scope: &Scope<'_>,
        reader: &mut Reader<'_>,
    ) -> Option<Limit> {
        let one = [
            (Sense::AtLeast, table.at_least),
            (Sense::MoreThan, table.more_than),
            (Sense::AtMost, table.at_most),
            (Sense::LessThan, table.less_than),
        ];
        let mut one = one.into_iter().filter_map(|(sense, figure)| Some((sense, figure?)));
        let (sense, bound, upper) = match (one.next(), one.next(), table.between, table.holds) {
            (None, None, None, Some(true)) => (Sense::Holds, Bound::None, None),
            (None, None, None, Some(false)) => (Sense::HoldsNot, Bound::None, None),
            (None, None, Some(between), None) => {
                let (lower, upper) = self.range(between, scope, reader)?;
                (Sense::Between, lower, Some(upper))
            }
            (Some((sense, figure)), None, None, None) => (sense, self.bound(figure, scope, reader)?, None),
            (None, None, None, None) => {
                let message = "A limit needs a comparison.";
                return reader.fault_help(NO_COMPARISON, message, table.span, "none here", COMPARISONS);
            }
            _ => {
                let message = "A limit is one comparison.";
                return reader.fault_help("pack::limit", message, table.span, "several here", COMPARISONS);
            }
        };
        let also = match table.also {
            Some(also) => Some(other_form(&also, &bound, upper.is_some(), reader)?),
            None => None,
        };
        Some(Limit { sense, bound, upper, also })
    }

    fn range(
        &self,
        between: At<Vec<At<Figure>>>,
        scope: &Scope<'_>,
        reader: &mut Reader<'_>,
    ) -> Option<(Bound, Bound)> {
        let Ok([lower, upper]) = <[At<Figure>; 2]>::try_from(between.value) else {
            return reader.fault_help(
                "pack::limit",
                "`between` takes two figures.",
                between.span,
                "not two",
                "Write the lower one first: `[\"30 in\", \"36 in\"]`.",
            );
        };
        let places = (lower.span, upper.span);
        let (lower, upper) = (self.bound(lower, scope, reader), self.bound(upper, scope, reader));
        let (lower, upper) = (lower?, upper?);
        in_order(&lower, &upper, places, reader)?;
        Some((lower, upper))
    }
}

/// Refuses a range whose ends are of two sorts, or the wrong way round where that can be seen.
fn in_order(
    lower: &Bound,
    upper: &Bound,
    (first, second): (Span, Span),
    reader: &mut Reader<'_>,
) -> Option<()> {
    if lower.dimension() != upper.dimension() {
        let fault = Fault::new(
            "pack::limit",
            "The ends of a range are of one sort.",
            second,
            "of another sort than the lower end",
        );
        reader.tell(
            fault.with_label(first, "the lower end").with_help("Give both ends the same sort of unit."),
        );
        return None;
    }
    let backwards = match (lower, upper) {
        (Bound::Constant(lower), Bound::Constant(upper)) => lower.value.si() > upper.value.si(),
        (Bound::Count(lower), Bound::Count(upper)) => lower > upper,
        _ => false,
    };
    if backwards {
        return reader.fault_help(
            "pack::limit",
            "The lower end of a range comes first.",
            second,
            "less than the first",
            "Turn the two figures round.",
        );
    }
    Some(())
}

/// The other form a source prints stands beside one constant figure, and means nearly the same.
fn other_form(
    also: &At<Amount>,
    bound: &Bound,
    range: bool,
    reader: &mut Reader<'_>,
) -> Option<Written<Quantity>> {
    /// Sources round their second form by at most this share: 36 in to 915 mm is 0.07 %, 4 in to 100 mm 1.6 %.
    const ROUNDING: f64 = 0.05;
    let other = &also.value.0;
    let Bound::Constant(figure) = bound else {
        return reader.fault_help(
            "pack::limit",
            "`also` stands beside one constant figure.",
            also.span,
            "no such figure",
            "Take it out, or give the figure as one constant.",
        );
    };
    if range {
        return reader.fault_help(
            "pack::limit",
            "`also` stands beside one figure, not a range.",
            also.span,
            "beside a range",
            "Take it out.",
        );
    }
    if figure.value.dimension() != other.value.dimension() {
        let message = format!(
            "`also` is {}, and the figure is {}.",
            dimension_words(other.value.dimension()),
            dimension_words(figure.value.dimension())
        );
        return reader.fault_help(
            "pack::limit",
            message,
            also.span,
            "of another sort",
            "Write the same figure in the other system of units.",
        );
    }
    if (figure.value.si() - other.value.si()).abs() > ROUNDING * figure.value.si().abs() {
        let message = format!("{} and {} are more than rounding apart.", figure.text, other.text);
        return reader.fault_help(
            "pack::limit",
            message,
            also.span,
            "not the same figure",
            "Check both against the source.",
        );
    }
    Some(other.clone())
}
