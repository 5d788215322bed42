//! Quantiles and critical values that tests of an adjustment use.
