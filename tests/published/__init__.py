"""Checks against published figures; each names its source and says what is computed by us."""

import pytest

pytest.register_assert_rewrite(f"{__name__}.support")
