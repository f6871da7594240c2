"""The food-safety tables as rules."""

from recipebox.cautions.rules import cold_storage, kitchen_rules, temperatures
from recipebox.tables.load import rows


def test_every_row_becomes_a_rule_with_its_source() -> None:
    """No row is dropped, and each rule keeps source, url and basis as published."""
    for table, key, rules in (
        ("safe_temperatures", "food_group", temperatures()),
        ("kitchen_safety_rules", "rule_id", kitchen_rules()),
        ("cold_storage", "food_group", tuple(rule for rule, _ in cold_storage())),
    ):
        assert [(rule.key, rule.source, rule.url, rule.basis) for rule in rules] == [
            (row[key], row["source"], row["url"], row["basis"]) for row in rows(table)
        ]


def test_keywords_hold_the_published_ones() -> None:
    """Our own words only add to a row's keywords: none published is lost."""
    for rule, row in zip(temperatures(), rows("safe_temperatures"), strict=True):
        assert {word.strip() for word in row["keywords"].split(";")} <= set(rule.words.words)
        assert {word.strip() for word in row["not_keywords"].split(";") if word} <= set(rule.words.masked)


def test_figures_are_the_tables() -> None:
    """Degrees in the text are the row's, in both scales."""
    for rule, row in zip(temperatures(), rows("safe_temperatures"), strict=True):
        assert rule.degrees == int(row["min_internal_F"])
        assert f"{row['min_internal_F']} °F ({row['min_internal_C']} °C)" in rule.text


def test_blank_storage_cells_are_no_figure() -> None:
    """Where a row gives no months or days, none are told."""
    for (rule, kept), row in zip(cold_storage(), rows("cold_storage"), strict=True):
        assert (kept.fridge_days is None) == (not row["fridge_days_min"])
        assert (kept.freezer_months is None) == (not row["freezer_months_min"])
        assert ("freezer (for quality)" in rule.text) == bool(row["freezer_months_min"])
