use super::*;

/// Gives a text in pieces of some length.
struct Pieces<'t>(&'t [u8], usize);

impl Read for Pieces<'_> {
    fn read(&mut self, room: &mut [u8]) -> std::io::Result<usize> {
        let length = self.1.min(room.len());
        self.0
            .take(length as u64)
            .read(room)
            .inspect(|read| self.0 = &self.0[*read..])
    }
}

#[test]
fn declared_entities_are_seen_however_they_are_cut() {
    let wide: Vec<u8> = "<?xml?> <!DOCTYPE a>"
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    let harmless = "<a>!A1 ! <! !ENTITY <!doctype <!-- --></a>".repeat(3);
    for (text, is_bad) in [
        ("<?xml version=\"1.0\"?>\n<!DOCTYPE a []>".as_bytes(), true),
        (b"<a>                <!ENTITY b \"bb\"></a>", true),
        (b"<!ENTITY", true),
        (&wide, true),
        (harmless.as_bytes(), false),
    ] {
        for length in 1..40 {
            let mut left = 1 << 20;
            let mut whole = Whole::of(0);
            let looked = look_through(&mut Pieces(text, length), "a.xml", &mut left, &mut whole);
            assert_eq!(
                looked.is_err(),
                is_bad,
                "{length}: {:?}",
                String::from_utf8_lossy(text)
            );
            if !is_bad {
                assert_eq!(whole.bytes().as_deref(), Some(text), "{length}");
            }
        }
    }
}
