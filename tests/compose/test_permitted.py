import pytest
from composing import composed, declared, material, of

ALL = ("UK", "EU", "US", "CA")


def found(component, *markets, may=()):
    composition = composed([("Talc", 95), ("m", 5)], [material("m", component)], may=may)
    findings = declared(composition, *markets)[1]
    return [(item.rule, item.market, item.level) for item in findings if item.rule.startswith("colour.")]


def why(component, market):
    findings = declared(composed([("m", 100)], [material("m", component)]), market)[1]
    return next(item for item in findings if item.rule.startswith("colour."))


@pytest.mark.parametrize("component", [
    of("CI 77491"), of("CI 77891"), of("CI 16035"), of("Caramel"), of("Titanium Dioxide", colorant=True),
    of("Mica"), of("CI 75470"),
])
def test_permitted_everywhere(component):
    assert found(component, *ALL) == []


@pytest.mark.parametrize("name", [
    # EU yes, US no: absence in 21 CFR 73 subpart C and 74 subpart C
    "CI 45430", "CI 73015", "CI 74160", "CI 74260", "CI 75300", "CI 75810", "Beetroot Red", "Anthocyanins",
    "Capsanthin/Capsorubin",
])
def test_a_colour_of_the_eu_alone_is_an_error_in_the_us(name):
    assert found(of(name), *ALL) == [("colour.not-permitted", "US", "error")]


@pytest.mark.parametrize(("name", "us"), [("CI 45425", "D&C Orange No. 10"), ("CI 20170", "D&C Brown No. 1")])
def test_a_colour_of_the_us_alone_is_an_error_in_eu_and_uk(name, us):
    # no such rows in Annex IV; 21 CFR 74.2260, 74.2261, 74.2151
    assert found(of(name, names=(("US", us),)), *ALL) == [
        ("colour.not-listed", "UK", "error"), ("colour.not-listed", "EU", "error"),
    ]


@pytest.mark.parametrize(("name", "instead"), [
    ("FD&C Red No. 40", "CI 16035"), ("Red 40", "CI 16035"), ("Ultramarines", "CI 77007"), ("Carmine", "CI 75470"),
    ("Iron Oxides", "CI 77489 or CI 77491 or CI 77492 or CI 77499"),
])
def test_a_us_colour_name_is_an_error_in_the_eu_that_says_the_number(name, instead):
    # US names are not valid in the EU, which prints the CI number
    finding = why(of(name), "EU")
    assert (finding.rule, finding.level) == ("colour.not-listed", "error")
    assert finding.do == f"write {instead}"
    assert found(of(name), "US") == []


def test_a_colorant_in_no_table_is_an_error_wherever_there_is_a_table():
    assert found(of("CI 99999"), *ALL) == [
        ("colour.not-listed", "UK", "error"), ("colour.not-listed", "EU", "error"),
        ("colour.not-permitted", "US", "error"), ("colour.not-listed", "CA", "warning"),
    ]
    assert found(of("Unheard Of Pigment", colorant=("EU",)), *ALL) == [("colour.not-listed", "EU", "error")]


def test_mica_declared_as_a_colorant_is_none_in_the_eu():
    # Commission export of Annex IV: no CI 77019 row; 21 CFR 73.2496
    assert found(of("Mica", colorant=True), *ALL) == [
        ("colour.no-colour", "UK", "error"), ("colour.no-colour", "EU", "error"), ("colour.no-colour", "CA", "warning"),
    ]
    assert why(of("Mica", colorant=True), "EU").do == 'write inci = "Mica" and colorant = ["US"]'
    assert found(of("Mica", colorant=("US",)), *ALL) == []


def test_micas_number_is_not_a_name_for_it():
    assert why(of("CI 77019"), "EU").do.startswith('write inci = "Mica"')
    assert why(of("CI 77019"), "US").do == "write Mica"


@pytest.mark.parametrize("name", ["Spirulina Platensis Powder", "Curcuma Longa Root Powder"])
def test_plant_powders_cannot_be_used_as_colorants(name):
    # Art. 14(1)(c) and Annex IV; 21 CFR 73 subpart C lists none of them
    assert {item[0] for item in found(of(name, colorant=True), "EU", "US")} == {"colour.no-colour"}
    assert found(of(name), "EU", "US") == []


@pytest.mark.parametrize("name", ["Titanium Dioxide", "Kaolin", "Zinc Oxide", "Calcium Carbonate", "Zinc Stearate"])
def test_what_does_not_colour_is_not_asked_about(name):
    assert found(of(name), *ALL) == []


def test_a_number_that_is_several_us_colours_asks_which():
    # 21 CFR 74.2306, 74.2307
    assert found(of("CI 15850"), "US") == [("colour.which", "US", "error")]
    assert found(of("CI 15850", names=(("US", "D&C Red No. 7"),)), "US") == []
    # lakes: 21 CFR 82.51, 82.1051
    assert found(of("CI 15850", names=(("US", "D&C Red No. 7-Calcium Lake"),)), "US") == []
    assert found(of("CI 15850", names=(("US", "Red 7"),)), "US") == []
    assert found(of("CI 15850", names=(("US", "Lithol"),)), "US") == [("colour.name", "US", "warning")]


def test_what_the_text_does_not_decide_only_warns():
    assert found(of("CI 77489"), "US") == [("colour.unclear", "US", "warning")]


def test_nano_carbon_black_is_listed_apart_and_not_in_the_us():
    # Annex IV/126a
    assert found(of("CI 77266", nano=True), "EU", "US") == [("colour.not-permitted", "US", "error")]
    assert found(of("CI 77266"), "EU", "US") == []


def test_the_cure_speaks_of_another_label_only_where_there_are_other_markets():
    assert "label of its own" not in why(of("CI 73015"), "US").do
    findings = declared(composed([("CI 73015", 100)]), "EU", "US")[1]
    assert [item.market for item in findings.errors] == ["US"] and "label of its own" in findings.errors[0].do


def test_may_contain_holds_colorants_only_and_says_when_it_is_allowed():
    findings = declared(composed([("Talc", 100)], may=("Squalane",)), "EU", "US")[1]
    assert {(item.rule, item.market, item.level) for item in findings} == {
        ("colour.not-listed", "EU", "error"), ("colour.not-permitted", "US", "error"),
        ("may-contain.use", "EU", "note"), ("may-contain.use", "US", "note"),
    }
    sources = [item.source for item in findings if item.rule == "may-contain.use"]
    assert sources == ["Regulation (EC) No 1223/2009, Art. 19(1)(g)", "21 CFR 701.3(g)"]


def test_a_may_contain_entry_named_twice_is_told():
    findings = declared(composed([("Talc", 100)], may=("CI 77491", "ci77491")), "EU")[1]
    assert [item.rule for item in findings] == ["may-contain.use", "may-contain.twice"]
