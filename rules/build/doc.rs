//! Reading the doc comment of a check out of its source.

/// The doc comment on the public struct of a check's file, without its slashes.
pub(crate) fn of_check(source: &str) -> Option<String> {
    let mut lines: Vec<&str> = Vec::new();
    for line in source.lines() {
        if let Some(words) = line.strip_prefix("///") {
            lines.push(words.strip_prefix(' ').unwrap_or(words));
        } else if line.starts_with("pub struct ") {
            return (!lines.is_empty()).then(|| lines.join("\n"));
        } else if !line.starts_with("#[") {
            lines.clear();
        }
    }
    None
}
