//! The figures of limits.

use std::collections::BTreeMap;

use groundrule_plan::reader::Reader;
use groundrule_plan::{At, Fault};
use groundrule_units::Dimension;

use super::{Context, known, within};
use crate::Bound;
use crate::formula::{Scope, Sort};
use crate::written::{Amount, Dotted, Figure, FigureBy};

impl Context<'_> {
    /// The figure of a limit.
    pub(super) fn bound(
        &self,
        figure: At<Figure>,
        scope: &Scope<'_>,
        reader: &mut Reader<'_>,
    ) -> Option<Bound> {
        match figure.value {
            Figure::Count(count) => Some(Bound::Count(count)),
            Figure::Constant(figure) => Some(Bound::Constant(figure)),
            Figure::By(by) => self.depending(*by, scope, reader),
        }
    }

    fn depending(&self, by: FigureBy, scope: &Scope<'_>, reader: &mut Reader<'_>) -> Option<Bound> {
        match (by.formula, by.by, by.values) {
            (Some(text), None, None) if by.r#else.is_none() => {
                let formula = within::formula(&text, scope, self.source, reader)?;
                let Some(dimension) = formula.dimension() else {
                    let message = format!(
                        "The formula of a limit gives an amount; this gives {}.",
                        formula.sort().words()
                    );
                    return reader.fault_help(
                        "pack::formula",
                        message,
                        text.span,
                        "not an amount",
                        "A condition stands in `when`, or before `?`.",
                    );
                };
                Some(Bound::Formula(formula, dimension))
            }
            (None, Some(name), Some(values)) => {
                table_by(&name, scope, reader);
                one_dimension(values.0.iter().map(|(_, figure)| figure).chain(&by.r#else), reader)?;
                let rows: BTreeMap<_, _> =
                    values.0.into_iter().map(|(value, figure)| (value.value, figure.value.0)).collect();
                Some(Bound::Table {
                    by: name.value.0,
                    rows,
                    otherwise: by.r#else.map(|figure| figure.value.0),
                })
            }
            _ => {
                let help = "Write either `{ formula = \"...\" }` or `{ by = \"site.district\", values = { R-1 = \"7 ft\" }, else = \"5 ft\" }`.";
                reader.fault_help(
                    "pack::limit",
                    "A figure that depends on the plan has a formula, or `by` with `values`.",
                    by.span,
                    "neither, or both",
                    help,
                )
            }
        }
    }
}

/// Refuses a table by anything but a text.
fn table_by(name: &At<Dotted>, scope: &Scope<'_>, reader: &mut Reader<'_>) {
    let (root, field) = name.value.0.split_once('.').unwrap_or(("", &name.value.0));
    let field = At { value: field, span: name.span };
    if let Some(sort) = known(root, &field, scope, reader).filter(|sort| *sort != Sort::Text) {
        let message = format!("A table goes by a text; `{}` is {}.", name.value.0, sort.words());
        let help = "Use a formula to make a figure depend on an amount.";
        reader.fault_help::<()>("pack::limit", message, name.span, "not a text", help);
    }
}

/// Refuses figures of one table that are of several dimensions.
fn one_dimension<'a>(
    mut figures: impl Iterator<Item = &'a At<Amount>>,
    reader: &mut Reader<'_>,
) -> Option<()> {
    let Some(first) = figures.next() else { return Some(()) };
    let of = |figure: &At<Amount>| figure.value.0.value.dimension();
    let Some(other) = figures.find(|figure| of(figure) != of(first)) else { return Some(()) };
    let fault = Fault::new(
        "pack::limit",
        "All figures of a table are of one sort.",
        other.span,
        dimension_words(of(other)),
    );
    let fault = fault.with_label(first.span, dimension_words(of(first)));
    reader.tell(fault.with_help("Give both the same sort of unit."));
    None
}

/// A dimension in words.
pub(super) fn dimension_words(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Ratio => "a slope or a share",
        other => Sort::from(other).words(),
    }
}
