import pytest

from labeltool import tables
from labeltool.symbol.curve import least_diameter_mm, widest_mm, widest_share

TABLE = tables.toml("symbol", "curved")


@pytest.mark.parametrize(("version", "share"), [(1, 0.52), (2, 0.47), (3, 0.36), (4, 0.31), (5, 0.23)])
def test_shares_by_version(version, share):
    assert widest_share(version, TABLE) == share


def test_larger_versions_bear_less_and_their_bow_stays_that_of_version_5():
    shares = [widest_share(version, TABLE) for version in range(1, 41)]
    assert shares == sorted(shares, reverse=True)
    assert widest_share(10, TABLE) * 57 == pytest.approx(0.23 * 37)


def test_width_and_diameter_are_each_other_s_inverse():
    assert widest_mm(2, 30, TABLE) == pytest.approx(14.1)
    assert least_diameter_mm(2, 14.1, TABLE) == pytest.approx(30)
    assert widest_mm(3, 15, TABLE) < 7.85  # the 30 degree rule on a lip balm's tube
