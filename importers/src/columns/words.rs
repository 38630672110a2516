//! The words by which columns and rows are recognised. English ones are built in; a profile adds
//! its own.

use super::header::{normal, starts_with_words};
use super::{Role, Subject};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};

const ENGLISH: &str = include_str!("../../words/en.toml");

/// What the first words of a row say of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowWord {
    /// It adds up others.
    Total,
    /// It adds up those of a part.
    Part,
    /// It adds up all.
    Whole,
    /// It hands a sum to another page.
    Carried,
    /// It takes something off.
    Less,
    /// It is an opening.
    Opening,
    /// It is for people.
    Note,
}

impl RowWord {
    const ALL: [(&str, Self); 7] = [
        ("total", Self::Total),
        ("part_total", Self::Part),
        ("whole_total", Self::Whole),
        ("carried", Self::Carried),
        ("less", Self::Less),
        ("opening", Self::Opening),
        ("note", Self::Note),
    ];
}

/// What the first words of a row say of it: nothing, or one thing or several.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct RowWords(u8);

impl RowWords {
    /// Whether they say this.
    pub fn has(self, word: RowWord) -> bool {
        self.0 & Self::of(word).0 != 0
    }

    fn of(word: RowWord) -> Self {
        Self(1 << word as u8)
    }

    fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

/// Words with what they mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    columns: Vec<(String, Role)>,
    /// Those of the columns of price lists.
    prices: Vec<(String, Role)>,
    rows: Vec<(String, RowWord)>,
    /// The first two letters of those of rows: what begins with others need not be compared.
    beginnings: BTreeSet<[u8; 2]>,
}

#[derive(Deserialize)]
struct Wire {
    columns: BTreeMap<String, Vec<String>>,
    prices: BTreeMap<String, Vec<String>>,
    rows: BTreeMap<String, Vec<String>>,
}

impl Default for Words {
    fn default() -> Self {
        let mut words = Self {
            columns: Vec::new(),
            prices: Vec::new(),
            rows: Vec::new(),
            beginnings: BTreeSet::new(),
        };
        // The list is part of the program; that it can be read is tested.
        if let Ok(wire) = toml::from_str::<Wire>(ENGLISH) {
            let sections = [
                (&wire.columns, &mut words.columns),
                (&wire.prices, &mut words.prices),
            ];
            for (lists, words) in sections {
                for (key, list) in lists {
                    let role = Role::of(key).into_iter();
                    words.extend(role.flat_map(|role| known(list, role)));
                }
            }
            for (key, list) in &wire.rows {
                let _ = words.add_rows(key, list);
            }
        }
        words
    }
}

impl Words {
    /// The words of price lists alone.
    pub fn of_prices(&self) -> Self {
        Self {
            columns: self.prices.clone(),
            ..self.clone()
        }
    }

    /// Adds words for a role of columns, or for a kind of rows.
    pub fn add(&mut self, key: &str, list: &[String]) -> Result<(), String> {
        self.add_columns(key, list)
            .or_else(|()| self.add_rows(key, list))
            .map_err(|()| {
                let rows = RowWord::ALL.iter().map(|(word, _)| *word);
                let known = Role::ALL.iter().map(|role| role.word()).chain(rows);
                format!("one of: {}", known.collect::<Vec<_>>().join(", "))
            })
    }

    fn add_columns(&mut self, key: &str, list: &[String]) -> Result<(), ()> {
        let role = Role::of(key).ok_or(())?;
        let lists = [
            (Subject::Faces, &mut self.columns),
            (Subject::Prices, &mut self.prices),
        ];
        for (_, words) in lists
            .into_iter()
            .filter(|(of, _)| of.roles().contains(&role))
        {
            words.extend(known(list, role));
        }
        Ok(())
    }

    fn add_rows(&mut self, key: &str, list: &[String]) -> Result<(), ()> {
        let (_, kind) = RowWord::ALL
            .iter()
            .find(|(word, _)| *word == key)
            .ok_or(())?;
        for word in list.iter().map(|word| normal(word)) {
            self.beginnings.insert(first_two(&word));
            self.rows.push((word, *kind));
        }
        Ok(())
    }

    /// The roles that a header is a word for, as it stands.
    pub(super) fn exact(&self, words: &str) -> Vec<Role> {
        let found = self.columns.iter().filter(|(word, _)| word == words);
        let mut roles: Vec<Role> = found.map(|(_, role)| *role).collect();
        roles.sort();
        roles.dedup();
        roles
    }

    /// The roles that stand in a header among other words, with the word; the longest words alone.
    pub(super) fn within(&self, words: &str, fits: impl Fn(Role) -> bool) -> Vec<(String, Role)> {
        let padded = format!(" {words} ");
        let found = self.columns.iter().filter(|(word, role)| {
            // A single letter among other words says nothing.
            word.chars().count() > 1 && stands_in(&padded, word) && fits(*role)
        });
        let found: Vec<&(String, Role)> = found.collect();
        let longest = found.iter().map(|(word, _)| word.len()).max().unwrap_or(0);
        let longest = found.into_iter().filter(|(word, _)| word.len() == longest);
        longest.cloned().collect()
    }

    /// What the first words of a row say.
    pub fn of_row(&self, text: &str) -> RowWords {
        let may_be = beginning(text).is_none_or(|letters| {
            let [first, _] = letters;
            let begins = |letters: &[u8; 2]| self.beginnings.contains(letters);
            begins(&letters) || begins(&[first, 0]) || begins(&[0, 0])
        });
        if !may_be {
            return RowWords::default();
        }
        let text = normal(text);
        let said = self.rows.iter();
        let said = said.filter(|(word, _)| starts_with_words(&text, word));
        said.fold(RowWords::default(), |all, (_, kind)| {
            all.and(RowWords::of(*kind))
        })
    }
}

/// The first two bytes of a normal text; 0 where it is shorter.
fn first_two(text: &str) -> [u8; 2] {
    let mut bytes = text.bytes();
    [bytes.next().unwrap_or(0), bytes.next().unwrap_or(0)]
}

/// The first two bytes that a text has once it is normal, where they can be told before it is.
fn beginning(text: &str) -> Option<[u8; 2]> {
    let bytes = text.as_bytes();
    let letter = |at: usize| {
        let plain = bytes.get(at).filter(|byte| byte.is_ascii_alphanumeric());
        plain.map(u8::to_ascii_lowercase)
    };
    let second = match bytes.get(1) {
        None => 0,
        Some(b' ') if letter(2).is_some() => b' ',
        Some(_) => letter(1)?,
    };
    Some([letter(0)?, second])
}

/// Whether a word stands by itself in a text with a blank at either end.
fn stands_in(padded: &str, word: &str) -> bool {
    padded.match_indices(word).any(|(at, _)| {
        let (before, behind) = (padded.get(..at), padded.get(at + word.len()..));
        let apart = before.zip(behind);
        apart.is_some_and(|(before, behind)| before.ends_with(' ') && behind.starts_with(' '))
    })
}

fn known(list: &[String], role: Role) -> impl Iterator<Item = (String, Role)> {
    list.iter().map(move |word| (normal(word), role))
}

#[cfg(test)]
mod tests;
