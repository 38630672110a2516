//! The words by which columns and rows are recognised. English ones are built in; a profile adds
//! its own.

use super::header::{normal, starts_with_words};
use super::{Role, Subject};
use serde::Deserialize;
use std::collections::BTreeMap;

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

/// Words with what they mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    columns: Vec<(String, Role)>,
    /// Those of the columns of price lists.
    prices: Vec<(String, Role)>,
    rows: Vec<(String, RowWord)>,
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
        self.rows
            .extend(list.iter().map(|word| (normal(word), *kind)));
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

    /// What the first words of a row say, each kind with the word.
    pub fn of_row(&self, text: &str) -> Vec<(RowWord, String)> {
        let text = normal(text);
        let found = self
            .rows
            .iter()
            .filter(|(word, _)| starts_with_words(&text, word));
        found.map(|(word, kind)| (*kind, word.clone())).collect()
    }
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
