//! Files that are no ASCII DXF drawing at all: what they are instead, and what to do.

use remark::{Place, Remark};

/// The text of a file without its byte-order mark, if it may be ASCII DXF.
///
/// # Errors
/// A remark that says what the file is instead.
pub(crate) fn text<'a>(bytes: &'a [u8], file: &str) -> Result<&'a [u8], Box<Remark>> {
    let text = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let refuse = |code, message: &str, cure: &str| {
        Err(Box::new(Remark::error(code, message).place(Place::file(file).line(1)).cure(cure)))
    };
    if text.iter().all(u8::is_ascii_whitespace) {
        return refuse("file-empty", "the file is empty", "save the drawing again as ASCII DXF");
    }
    // The sentinel is 22 bytes; the seven before this are a maker's name.
    if text.get(7..).is_some_and(|rest| rest.starts_with(b" Binary DXF")) {
        return refuse(
            "binary-dxf",
            "the file is binary DXF, and only ASCII DXF is read",
            "save it as ASCII DXF",
        );
    }
    if text.starts_with(b"AC10") || text.starts_with(b"AC1.") {
        return refuse(
            "dwg-file",
            "the file is a DWG drawing, and only ASCII DXF is read",
            "save it as ASCII DXF",
        );
    }
    if looks_like_utf16(text) {
        return refuse(
            "utf16-text",
            "the file is UTF-16 text, and DXF is 8-bit text",
            "save it as UTF-8 or ASCII",
        );
    }
    Ok(text)
}

/// A byte-order mark of UTF-16, or every other byte of the beginning zero.
fn looks_like_utf16(text: &[u8]) -> bool {
    let head = &text[..text.len().min(64)];
    let zeros = |parity| head.iter().skip(parity).step_by(2).filter(|&&b| b == 0).count();
    let most = head.len() / 2 * 3 / 4;
    let alternating =
        head.len() >= 4 && (zeros(0) > most && zeros(1) == 0 || zeros(1) > most && zeros(0) == 0);
    head.starts_with(b"\xFF\xFE") || head.starts_with(b"\xFE\xFF") || alternating
}

/// The remark about a file whose beginning is no DXF group structure.
pub(crate) fn not_dxf(file: &str, line: u32, found: &str) -> Remark {
    let message = format!("no ASCII DXF drawing: {found} where group 0 with SECTION was expected");
    Remark::error("not-dxf", message)
        .place(Place::file(file).line(line))
        .cure("save the drawing as ASCII DXF")
}
