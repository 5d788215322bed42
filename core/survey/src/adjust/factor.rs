//! The sparse factor of the normal equations, and what is asked of it.

use std::sync::Arc;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::ldlt::factor::LdltRegularization;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Par, Side, Spec};

/// A pivot below this share of its diagonal entry may be a freedom.
const SMALL_PIVOT: f64 = 1e-12;
/// What a whitened row of the scaled equations may move along a freedom, squared, for a movement of length one.
/// Rounding leaves some 1e-25; the weakest geometry of practice some 1e-12.
const NO_HOLD: f64 = 1e-17;

/// A whitened equation: slopes in the reduced unknowns, in order, divided by the standard uncertainty.
pub(super) type Equation = Vec<(u32, f64)>;

/// The upper triangle of the normal matrix, column by column.
#[derive(Clone, Debug, Default, PartialEq)]
struct Pattern {
    starts: Vec<usize>,
    rows: Vec<usize>,
}

/// The normal equations `A'A` of whitened rows, factored as `L D L'` after scaling by the diagonal.
#[derive(Clone, Debug)]
pub(super) struct Factor {
    pattern: Arc<Pattern>,
    symbolic: Arc<SymbolicCholesky<usize>>,
    /// Columns of `L`, each headed by its entry of `D`.
    values: Vec<f64>,
    /// One over the root of the diagonal.
    scale: Vec<f64>,
    /// Places in the order of elimination whose pivots were replaced.
    replaced: Vec<usize>,
}

/// The normal matrix before it is factored.
#[derive(Clone, Debug)]
pub(super) struct Normal {
    pattern: Arc<Pattern>,
    values: Vec<f64>,
    scale: Vec<f64>,
}

impl Normal {
    /// Sums up `A'A`.
    pub(super) fn new(size: usize, equations: &[Equation]) -> Self {
        let mut columns: Vec<Vec<(u32, f64, u32)>> = vec![Vec::new(); size];
        for (id, equation) in (0..).zip(equations) {
            for (at, &(unknown, slope)) in (0..).zip(equation) {
                if let Some(column) = columns.get_mut(unknown as usize) {
                    column.push((id, slope, at));
                }
            }
        }
        let mut sums = vec![0.0; size];
        let mut seen = vec![usize::MAX; size];
        let (mut starts, mut rows, mut values) = (vec![0], Vec::new(), Vec::new());
        for (j, column) in columns.iter().enumerate() {
            let first = rows.len();
            // The diagonal is always there, so that an unknown nothing observes still has its pivot.
            rows.push(j);
            if let (Some(seen), Some(sum)) = (seen.get_mut(j), sums.get_mut(j)) {
                *seen = j;
                *sum = 0.0;
            }
            for &(id, slope, at) in column {
                let equation = equations.get(id as usize).map_or(&[][..], |e| e);
                for &(i, other) in equation.get(..=at as usize).unwrap_or(&[]) {
                    let i = i as usize;
                    if let (Some(seen), Some(sum)) = (seen.get_mut(i), sums.get_mut(i)) {
                        if *seen != j {
                            *seen = j;
                            *sum = 0.0;
                            rows.push(i);
                        }
                        *sum += slope * other;
                    }
                }
            }
            if let Some(new) = rows.get_mut(first..) {
                new.sort_unstable();
                values.extend(new.iter().map(|i| sums.get(*i).copied().unwrap_or(0.0)));
            }
            starts.push(rows.len());
        }
        // Rows are sorted and end on the diagonal.
        let scale: Vec<f64> = starts
            .iter()
            .skip(1)
            .map(|end| values.get(end - 1).copied().unwrap_or(0.0))
            .map(|diagonal: f64| if diagonal > 0.0 { 1.0 / libm::sqrt(diagonal) } else { 1.0 })
            .collect();
        for (j, bounds) in starts.windows(2).enumerate() {
            for at in bounds[0]..bounds[1] {
                if let (Some(value), Some(&i)) = (values.get_mut(at), rows.get(at)) {
                    *value *= scale.get(i).copied().unwrap_or(1.0) * scale.get(j).copied().unwrap_or(1.0);
                }
            }
        }
        Self { pattern: Arc::new(Pattern { starts, rows }), values, scale }
    }

    /// The square of a step where each unknown is weighed by its diagonal entry.
    pub(super) fn square(&self, steps: &[f64]) -> f64 {
        steps.iter().zip(&self.scale).map(|(step, scale)| (step / scale) * (step / scale)).sum()
    }

    /// Factors the matrix with its diagonal raised by a share `damping`; none when a number is out of range.
    ///
    /// The pattern of `like` is used again where it is the same.
    pub(super) fn factor(&self, damping: f64, like: Option<&Factor>) -> Option<Factor> {
        self.factor_from(damping, SMALL_PIVOT, like)
    }

    /// Factors it although pivots are small: they are real, if weak.
    pub(super) fn factor_weak(&self, like: &Factor) -> Option<Factor> {
        self.factor_from(0.0, 0.0, Some(like))
    }

    fn factor_from(&self, damping: f64, small: f64, like: Option<&Factor>) -> Option<Factor> {
        let size = self.scale.len();
        if !self.values.iter().chain(&self.scale).all(|value| value.is_finite()) {
            return None;
        }
        let shape =
            SymbolicSparseColMatRef::new_checked(size, size, &self.pattern.starts, None, &self.pattern.rows);
        let symbolic = match like.filter(|like| like.pattern == self.pattern) {
            Some(like) => Arc::clone(&like.symbolic),
            None => Arc::new(
                factorize_symbolic_cholesky(
                    shape,
                    Side::Upper,
                    SymmetricOrdering::Amd,
                    CholeskySymbolicParams {
                        // One number at a time: the same sums in the same order on every machine.
                        supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SIMPLICIAL,
                        ..Default::default()
                    },
                )
                .ok()?,
            ),
        };
        let mut raised = self.values.clone();
        for end in self.pattern.starts.iter().skip(1) {
            if let Some(diagonal) = raised.get_mut(end - 1) {
                *diagonal += damping * diagonal.max(1e-12);
            }
        }
        let signs = vec![1; size];
        let mut values = vec![0.0; symbolic.len_val()];
        let mut memory =
            MemBuffer::try_new(symbolic.factorize_numeric_ldlt_scratch::<f64>(Par::Seq, Spec::default()))
                .ok()?;
        symbolic
            .factorize_numeric_ldlt(
                &mut values,
                SparseColMatRef::new(shape, &raised),
                Side::Upper,
                LdltRegularization {
                    dynamic_regularization_signs: Some(&signs),
                    dynamic_regularization_delta: REPLACED,
                    dynamic_regularization_epsilon: small,
                },
                Par::Seq,
                MemStack::new(&mut memory),
                Spec::default(),
            )
            .ok()?;
        if !values.iter().all(|value| value.is_finite()) {
            return None;
        }
        let mut factor = Factor {
            pattern: Arc::clone(&self.pattern),
            symbolic,
            values,
            scale: self.scale.clone(),
            replaced: Vec::new(),
        };
        factor.replaced =
            (0..size).filter(|k| factor.column(*k).is_some_and(|c| c.pivot == REPLACED)).collect();
        Some(factor)
    }
}

/// What takes the place of a pivot that is too small; no pivot of a scaled matrix is larger than one.
const REPLACED: f64 = 2.0;

struct Column<'a> {
    pivot: f64,
    rows: &'a [usize],
    values: &'a [f64],
}

impl Factor {
    fn column(&self, k: usize) -> Option<Column<'_>> {
        let SymbolicCholeskyRaw::Simplicial(shape) = self.symbolic.raw() else { return None };
        let (from, to) = (*shape.col_ptr().get(k)?, *shape.col_ptr().get(k + 1)?);
        let (rows, values) = (shape.row_idx().get(from..to)?, self.values.get(from..to)?);
        Some(Column { pivot: *values.first()?, rows: rows.get(1..)?, values: values.get(1..)? })
    }

    /// From the order of the unknowns to the order of elimination and back.
    fn orders(&self) -> (&[usize], &[usize]) {
        self.symbolic.perm().map_or((&[], &[]), faer::perm::PermRef::arrays)
    }

    fn size(&self) -> usize {
        self.scale.len()
    }

    /// True when some pivot was too small.
    pub(super) fn is_doubtful(&self) -> bool {
        !self.replaced.is_empty()
    }

    /// The solution of the normal equations for a right-hand side.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let (forward, _) = self.orders();
        let mut x: Vec<f64> = forward.iter().map(|i| at(right, *i) * at(&self.scale, *i)).collect();
        for k in 0..self.size() {
            let Some(column) = self.column(k) else { continue };
            let head = at(&x, k);
            if head != 0.0 {
                for (row, value) in column.rows.iter().zip(column.values) {
                    if let Some(slot) = x.get_mut(*row) {
                        *slot -= value * head;
                    }
                }
            }
            if let Some(slot) = x.get_mut(k) {
                *slot /= column.pivot;
            }
        }
        self.back(x)
    }

    /// Solves `L' y = x`, then undoes order and scale.
    fn back(&self, mut x: Vec<f64>) -> Vec<f64> {
        for k in (0..self.size()).rev() {
            let Some(column) = self.column(k) else { continue };
            let sum: f64 =
                column.rows.iter().zip(column.values).map(|(row, value)| value * at(&x, *row)).sum();
            if let Some(slot) = x.get_mut(k) {
                *slot -= sum;
            }
        }
        let (_, back) = self.orders();
        back.iter().zip(&self.scale).map(|(i, scale)| at(&x, *i) * scale).collect()
    }

    /// `a' N^-1 a` of a sparse row `a`, walking only the columns it reaches.
    pub(super) fn form(&self, row: &[(u32, f64)], work: &mut Work) -> f64 {
        let (_, back) = self.orders();
        work.x.resize(self.size(), 0.0);
        work.seen.resize(self.size(), false);
        work.reach.clear();
        for &(unknown, value) in row {
            let Some(&place) = back.get(unknown as usize) else { continue };
            if let Some(slot) = work.x.get_mut(place) {
                *slot += value * at(&self.scale, unknown as usize);
            }
            let mut node = Some(place);
            // The first row below the diagonal is the column that has to come next.
            while let Some(k) = node.filter(|k| work.seen.get(*k) == Some(&false)) {
                if let Some(seen) = work.seen.get_mut(k) {
                    *seen = true;
                }
                work.reach.push(k);
                node = self.column(k).and_then(|column| column.rows.first().copied());
            }
        }
        work.reach.sort_unstable();
        let mut sum = 0.0;
        for &k in &work.reach {
            let head = at(&work.x, k);
            if let (Some(slot), Some(seen)) = (work.x.get_mut(k), work.seen.get_mut(k)) {
                *slot = 0.0;
                *seen = false;
            }
            let Some(column) = self.column(k) else { continue };
            sum += head * head / column.pivot;
            for (row, value) in column.rows.iter().zip(column.values) {
                if let Some(slot) = work.x.get_mut(*row) {
                    *slot -= value * head;
                }
            }
        }
        sum
    }

    /// The movements that no equation hinders.
    pub(super) fn freedoms(&self, equations: &[Equation]) -> Vec<Vec<f64>> {
        let mut freedoms = Vec::new();
        for &k in &self.replaced {
            let mut x = vec![0.0; self.size()];
            if let Some(slot) = x.get_mut(k) {
                *slot = 1.0;
            }
            let movement = self.back(x);
            let length: f64 = movement
                .iter()
                .zip(&self.scale)
                .map(|(value, scale)| (value / scale) * (value / scale))
                .sum();
            let held: f64 = equations
                .iter()
                .map(|equation| {
                    let along: f64 =
                        equation.iter().map(|(i, slope)| slope * at(&movement, *i as usize)).sum();
                    along * along
                })
                .sum();
            if held <= NO_HOLD * length {
                freedoms.push(movement);
            }
        }
        freedoms
    }
}

/// Room for [`Factor::form`], so that it need not be cleared between rows.
#[derive(Debug, Default)]
pub(super) struct Work {
    x: Vec<f64>,
    seen: Vec<bool>,
    reach: Vec<usize>,
}

fn at(values: &[f64], i: usize) -> f64 {
    values.get(i).copied().unwrap_or(0.0)
}
