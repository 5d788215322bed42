//! The bounds of a limit for one reading: a constant, a row of a table, or what a formula gives.

use groundrule_packs::{Bound, Facts, Formula, FormulaError, Limit, Sense};
use groundrule_site::{Fact, Measured};
use groundrule_units::{Quantity, Style, Written, show};

/// A bound that has its figure.
#[derive(Clone, Debug)]
pub(crate) enum Figure {
    /// An amount, with the text a report prints for it.
    Amount(Box<Measured>, String),
    /// A whole number.
    Count(u32),
    /// None, for a yes or no.
    None,
}

/// Why a bound has no figure here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Unset {
    /// Names it needs are not stated.
    Lacking(Vec<String>),
    /// Its table has no line for this case, so the row is not for it.
    NotForIt(String),
    /// The pack is at fault.
    Broken(String),
}

/// The figures of a limit.
#[derive(Clone, Debug)]
pub(crate) struct Figures {
    pub(crate) bound: Figure,
    pub(crate) upper: Option<Figure>,
    /// The other printed form; only a single bound that is a constant has one.
    pub(crate) also: Option<Written<Quantity>>,
}

/// The figures of `limit` for the reading that `facts` are of.
pub(crate) fn figures(limit: &Limit, facts: &dyn Facts, style: Style) -> Result<Figures, Unset> {
    let bound = figure(&limit.bound, facts, style)?;
    let upper = limit.upper.as_ref().map(|upper| figure(upper, facts, style)).transpose()?;
    if (limit.sense == Sense::Between) != upper.is_some() {
        return Err(Unset::Broken("only a range has an upper bound, and it must have one".to_owned()));
    }
    let also = limit.also.clone().filter(|_| upper.is_none() && matches!(limit.bound, Bound::Constant(_)));
    Ok(Figures { bound, upper, also })
}

fn figure(bound: &Bound, facts: &dyn Facts, style: Style) -> Result<Figure, Unset> {
    match bound {
        Bound::None => Ok(Figure::None),
        Bound::Count(count) => Ok(Figure::Count(*count)),
        Bound::Constant(written) => Ok(printed(written)),
        Bound::Table { by, rows, otherwise } => {
            let Some(fact) = facts.fact(by) else {
                return Err(Unset::Lacking(vec![by.clone()]));
            };
            let key = key(&fact)
                .ok_or_else(|| Unset::Broken(format!("`{by}` is an amount; a table needs words")))?;
            let line = rows.get(&key).or(otherwise.as_ref());
            line.map(printed)
                .ok_or_else(|| Unset::NotForIt(format!("Its table has no line for `{by}` = {key}.")))
        }
        Bound::Formula(formula, dimension) => {
            let amount = formula.amount(facts).map_err(|error| unset(formula, facts, error))?;
            if amount.value().dimension() != *dimension || !amount.value().si().is_finite() {
                return Err(Unset::Broken(format!("`{}` gives no usable figure here", formula.text())));
            }
            let text = format!("{} by `{}`", show(amount.value(), style), formula.text());
            Ok(Figure::Amount(Box::new(amount), text))
        }
    }
}

/// A figure as its source prints it; it is exact.
fn printed(written: &Written<Quantity>) -> Figure {
    Figure::Amount(Box::new(Measured::exact(written.value)), written.text.clone())
}

/// The words a table is looked up by.
fn key(fact: &Fact) -> Option<String> {
    match fact {
        Fact::Text(text) => Some(text.clone()),
        Fact::Count(count) => Some(count.to_string()),
        Fact::Flag(flag) => Some(flag.to_string()),
        Fact::Amount(_) | Fact::Amounts(_) => None,
    }
}

/// What a formula's failure means for the row. A missing name brings every other missing one with it, so
/// that a reader can state all of them at once.
pub(crate) fn unset(formula: &Formula, facts: &dyn Facts, error: FormulaError) -> Unset {
    match error {
        FormulaError::Missing(first) => {
            let mut names = vec![first];
            for name in formula.names().filter(|name| facts.fact(name).is_none()) {
                if !names.iter().any(|known| known == name) {
                    names.push(name.to_owned());
                }
            }
            Unset::Lacking(names)
        }
        FormulaError::Failed(message) => Unset::Broken(message),
    }
}
