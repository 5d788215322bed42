//! Running a checked formula on the facts of one plan.

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use cel::common::types::{CelDouble, DOUBLE_TYPE};
use cel::common::value::CowVal;
use cel::{Context, Env, ExecutionError, IdedExpr, Value};
use groundrule_site::{Fact, Measured};
use groundrule_units::{Dimension, Quantity};

use super::check::stated;
use super::{Facts, FormulaError, Sort, snapped};

/// The standard operators of the language and our functions, built once.
static LANGUAGE: LazyLock<Arc<Env>> = LazyLock::new(|| {
    let mut env = Env::default().with_optional_support(false).with_stdlib();
    let ours = [
        ("least", least as cel::common::functions::Function),
        ("greatest", greatest),
        ("round_up", round_up),
        ("round_down", round_down),
    ];
    for (name, op) in ours {
        let added = env.add_overload(name, name, vec![DOUBLE_TYPE, DOUBLE_TYPE], op);
        debug_assert!(added.is_ok(), "the standard library has no `{name}` of its own");
    }
    Arc::new(env)
});

#[allow(clippy::needless_pass_by_value, reason = "the language's crate fixes how functions are called")]
fn least<'b, 'v>(numbers: Vec<CowVal<'b, 'v>>) -> Result<CowVal<'b, 'v>, ExecutionError> {
    folded(&numbers, f64::min)
}

#[allow(clippy::needless_pass_by_value, reason = "the language's crate fixes how functions are called")]
fn greatest<'b, 'v>(numbers: Vec<CowVal<'b, 'v>>) -> Result<CowVal<'b, 'v>, ExecutionError> {
    folded(&numbers, f64::max)
}

#[allow(clippy::needless_pass_by_value, reason = "the language's crate fixes how functions are called")]
fn round_up<'b, 'v>(numbers: Vec<CowVal<'b, 'v>>) -> Result<CowVal<'b, 'v>, ExecutionError> {
    folded(&numbers, |value, step| stepped(value, step, f64::ceil))
}

#[allow(clippy::needless_pass_by_value, reason = "the language's crate fixes how functions are called")]
fn round_down<'b, 'v>(numbers: Vec<CowVal<'b, 'v>>) -> Result<CowVal<'b, 'v>, ExecutionError> {
    folded(&numbers, |value, step| stepped(value, step, f64::floor))
}

/// A value in whole steps; a step that is not more than zero gives no number. A value that is whole steps within
/// a micrometre (or a millionth, for what is no length) stays as it is, so that a figure does not take another step
/// for what its conversion rounded off.
fn stepped(value: f64, step: f64, whole: fn(f64) -> f64) -> f64 {
    const SAME: f64 = 1e-6;
    if step <= 0.0 || step.is_nan() {
        return f64::NAN;
    }
    let nearest = (value / step).round();
    if (value - nearest * step).abs() <= SAME { value } else { whole(value / step) * step }
}

fn folded<'b, 'v>(
    numbers: &[CowVal<'b, 'v>],
    fold: fn(f64, f64) -> f64,
) -> Result<CowVal<'b, 'v>, ExecutionError> {
    let number = |value: &CowVal<'b, 'v>| value.downcast_ref::<CelDouble>().map(|number| *number.inner());
    let reduced = numbers.iter().map(number).collect::<Option<Vec<_>>>();
    let reduced = reduced.and_then(|numbers| numbers.into_iter().reduce(fold));
    reduced
        .map(|number| CowVal::owned(CelDouble::from(number)))
        .ok_or(ExecutionError::MissingArgumentOrTarget)
}

/// The facts a formula names, where the plan states them.
pub(super) struct Gathered(Vec<(String, Option<Fact>)>);

/// Looks every name up, and refuses a fact of another sort than was said when the formula was checked.
pub(super) fn gather(names: &BTreeMap<String, Sort>, facts: &dyn Facts) -> Result<Gathered, FormulaError> {
    let mut gathered = Vec::with_capacity(names.len());
    for (name, sort) in names {
        let fact = facts.fact(name);
        if let Some(given) = fact.as_ref().map(sort_of).filter(|given| given != sort) {
            return Err(FormulaError::Failed(format!(
                "`{name}` is {} here, not {}",
                given.words(),
                sort.words()
            )));
        }
        gathered.push((name.clone(), fact));
    }
    Ok(Gathered(gathered))
}

fn sort_of(fact: &Fact) -> Sort {
    match fact {
        Fact::Amount(amount) => amount.value().dimension().into(),
        Fact::Amounts(_) => Sort::Lengths,
        Fact::Count(_) => Sort::PLAIN,
        Fact::Flag(_) => Sort::Flag,
        Fact::Text(_) => Sort::Text,
    }
}

impl Gathered {
    /// The measured names that carry an error, by their place among the names.
    fn uncertain(&self) -> impl Iterator<Item = (usize, &Measured)> {
        self.0.iter().enumerate().filter_map(|(i, (_, fact))| match fact {
            Some(Fact::Amount(amount)) if !amount.terms().is_empty() => Some((i, amount.as_ref())),
            _ => None,
        })
    }

    /// Runs the formula, with one of the names moved by so much.
    fn run(&self, tree: &IdedExpr, moved: Option<(usize, f64)>) -> Result<Value, FormulaError> {
        let mut context = Context::with_env(Arc::clone(&LANGUAGE));
        for (i, (name, fact)) in self.0.iter().enumerate() {
            context.add_variable_from_value(stated(name), fact.is_some());
            let by = moved.filter(|(which, _)| *which == i).map_or(0.0, |(_, by)| by);
            match fact {
                // What is lacking is left out, so that asking for it says so.
                Some(Fact::Amount(amount)) if !amount.needs.is_empty() => {}
                Some(Fact::Amount(amount)) => {
                    let (si, is_length) = (amount.value().si(), amount.value().length().is_some());
                    context.add_variable_from_value(name, if is_length { snapped(si) } else { si } + by);
                }
                Some(Fact::Count(count)) => context.add_variable_from_value(name, f64::from(*count)),
                Some(Fact::Flag(flag)) => context.add_variable_from_value(name, *flag),
                Some(Fact::Text(text)) => context.add_variable_from_value(name, text.as_str()),
                // No formula takes a list; it may only ask whether there is one.
                Some(Fact::Amounts(_)) | None => {}
            }
        }
        context.resolve(tree).map_err(|error| match error {
            ExecutionError::UndeclaredReference(name) => FormulaError::Missing(name.to_string()),
            other => FormulaError::Failed(other.to_string()),
        })
    }

    fn number(&self, tree: &IdedExpr, moved: Option<(usize, f64)>) -> Result<f64, FormulaError> {
        match self.run(tree, moved)? {
            Value::Float(number) if number.is_finite() => Ok(number),
            Value::Float(_) => {
                Err(FormulaError::Failed("the formula divides by zero or runs out of range".to_owned()))
            }
            other => {
                Err(FormulaError::Failed(format!("the formula gave {:?}, not a number", other.type_of())))
            }
        }
    }

    fn truth(&self, tree: &IdedExpr, moved: Option<(usize, f64)>) -> Result<bool, FormulaError> {
        match self.run(tree, moved)? {
            Value::Bool(flag) => Ok(flag),
            other => {
                Err(FormulaError::Failed(format!("the formula gave {:?}, not a yes or no", other.type_of())))
            }
        }
    }

    /// How fast the formula's value changes with one name.
    ///
    /// The slope at the value itself, by central difference. Where the slope across one standard
    /// uncertainty is steeper by more than a tenth, a `least`, a `greatest` or a condition turns within
    /// reach of the error, and the steeper one is taken.
    fn slope(&self, tree: &IdedExpr, name: usize, value: f64, spread: f64) -> Result<f64, FormulaError> {
        /// So much steeper than across a standard uncertainty is a step.
        const STEEP: f64 = 100.0;
        let across = |step: f64| -> Result<f64, FormulaError> {
            let (up, down) =
                (self.number(tree, Some((name, step)))?, self.number(tree, Some((name, -step)))?);
            Ok((up - down) / (2.0 * step))
        };
        // The cube root of the rounding unit balances rounding against curvature.
        let near = across(6e-6 * value.abs().max(1.0))?;
        let far = if spread > 0.0 { across(spread)? } else { near };
        // At the foot of a step, as of `round_up`, the slope at the value itself is no slope at all.
        let step = near.abs() > STEEP * far.abs();
        Ok(if step || far.abs() > 1.1 * near.abs() { far } else { near })
    }
}

/// The amount a formula gives, its error carried over from each measured name to first order.
pub(super) fn amount(
    tree: &IdedExpr,
    facts: &Gathered,
    dimension: Dimension,
) -> Result<Measured, FormulaError> {
    let value = facts.number(tree, None)?;
    let mut terms = BTreeMap::new();
    for (name, measured) in facts.uncertain() {
        let slope = facts.slope(tree, name, measured.value().si(), measured.spread().si())?;
        for (source, term) in measured.terms() {
            *terms.entry(*source).or_insert(0.0) += slope * term;
        }
    }
    let terms = terms.into_iter().filter(|(_, term)| *term != 0.0).collect();
    Ok(Measured::new(Quantity::new(dimension, value), terms))
}

/// The truth a formula gives at the best values.
pub(super) fn truth(tree: &IdedExpr, facts: &Gathered) -> Result<bool, FormulaError> {
    facts.truth(tree, None)
}

/// Whether that truth survives each measured name moving by its 95 % half width.
pub(super) fn settled(tree: &IdedExpr, facts: &Gathered) -> Result<bool, FormulaError> {
    /// Two-sided 95 % quantile of the normal distribution.
    const HALF_WIDTH: f64 = 1.959_964;
    let best = facts.truth(tree, None)?;
    for (name, measured) in facts.uncertain() {
        let reach = HALF_WIDTH * measured.spread().si();
        for by in [-reach, reach] {
            if facts.truth(tree, Some((name, by)))? != best {
                return Ok(false);
            }
        }
    }
    Ok(true)
}

/// How far each measured name can move without changing the truth, where it can at all.
pub(super) fn leeway(tree: &IdedExpr, facts: &Gathered) -> Result<Vec<(String, f64)>, FormulaError> {
    /// Doublings from a spread outward: further than any measured amount is in doubt.
    const DOUBLINGS: i32 = 40;
    let best = facts.truth(tree, None)?;
    let mut leeway = Vec::new();
    for (name, measured) in facts.uncertain() {
        let (mut stands, mut reach) = (0.0, measured.spread().si());
        for _ in 0..DOUBLINGS {
            let mut flips = false;
            for by in [-reach, reach] {
                flips |= facts.truth(tree, Some((name, by)))? != best;
            }
            if flips {
                leeway.push((facts.0[name].0.clone(), stands));
                break;
            }
            stands = reach;
            reach *= 2.0;
        }
    }
    Ok(leeway)
}
