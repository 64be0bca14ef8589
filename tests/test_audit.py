"""The audit of the dependencies says what is wrong, and never more than it was told."""

from __future__ import annotations

import json
import os

import pytest

from tests import audit

PINS = {"pillow": "13.0.0", "typing-extensions": "4.16.0", "jinja2": "3.1.6"}
SOUND = {"name": "Jinja2", "version": "3.1.6", "vulns": []}
SKIPPED = {"name": "typing_extensions", "skip_reason": "Dependency not found on PyPI and could not be audited"}
VULNERABLE = {"name": "pillow", "version": "13.0.0", "vulns": [
    {"id": "PYSEC-2026-1", "fix_versions": ["13.0.1", "13.1.0"], "aliases": ["CVE-2026-1"],
     "description": "reads too far"}]}
BROKEN = ("", "<html>not found</html>", "[]", "{}", '{"dependencies": [{"version": "1"}], "install": [{}]}', "null",
          "7", '{"dependencies": {"pillow": 1}, "install": {"pillow": 1}}')


def answer(*packages: dict) -> str:
    return json.dumps({"dependencies": packages, "fixes": []})


def report(name: str, version: str, yanked: bool = False, url: str = "https://index.example/packages/it.whl") -> dict:
    return {"metadata": {"name": name, "version": version}, "is_yanked": yanked, "download_info": {"url": url}}


def installation(*packages: dict) -> str:
    return json.dumps({"version": "1", "install": packages})


def test_a_known_vulnerability_is_wrong():
    wrong, told = audit.vulnerabilities(answer(VULNERABLE, SOUND, {**SOUND, "name": "typing.extensions"}), PINS)
    assert wrong == ["VULNERABLE: pillow 13.0.0: PYSEC-2026-1, mended in 13.0.1, 13.1.0"]
    assert told == "audited: all 3 packages"


def test_a_vulnerability_that_is_not_mended_yet_is_wrong_too():
    unmended = {**VULNERABLE, "vulns": [{**VULNERABLE["vulns"][0], "fix_versions": []}]}
    assert audit.vulnerabilities(answer(unmended), PINS).wrong == [
        "VULNERABLE: pillow 13.0.0: PYSEC-2026-1, mended in no version yet"]


def test_what_was_skipped_was_not_audited():
    wrong, told = audit.vulnerabilities(answer(SOUND, SKIPPED), PINS)
    assert not wrong
    assert told.startswith("NOT AUDITED: 2 of 3 packages") and told.endswith("pillow, typing-extensions")
    assert audit.vulnerabilities(answer(SKIPPED), PINS).told.startswith("NOT AUDITED: 3 of 3 packages")
    assert audit.vulnerabilities(answer(), {}).told.startswith("NOT AUDITED: 0 of 0 packages")


def test_a_withdrawn_version_is_wrong():
    wrong, told = audit.withdrawals(installation(
        report("pillow", "13.0.0", yanked=True), report("Jinja2", "3.1.6"), report("typing_extensions", "4.16.0")),
                                    PINS)
    assert wrong == ["WITHDRAWN: pillow 13.0.0"]
    assert told == "asked whether withdrawn: all 3 packages"


def test_a_file_on_this_machine_does_not_tell_whether_it_was_withdrawn():
    wrong, told = audit.withdrawals(installation(
        report("pillow", "13.0.0", url="file:///wheels/pillow.whl"), report("Jinja2", "3.1.6")), PINS)
    assert not wrong and told.startswith("NOT ASKED WHETHER WITHDRAWN: 2 of 3 packages")


@pytest.mark.parametrize("broken", BROKEN)
@pytest.mark.parametrize("judge", [audit.vulnerabilities, audit.withdrawals])
def test_a_broken_answer_is_no_audit(judge, broken):
    wrong, told = judge(broken, PINS)
    assert not wrong
    assert told.startswith("NOT ") and "3 of 3 packages, the answer could not be read" in told


def test_what_was_found_before_an_answer_breaks_off_stands():
    assert audit.vulnerabilities(json.dumps({"dependencies": [VULNERABLE, None]}), PINS).wrong


def test_pins_are_read_by_name():
    assert audit.pinned("# which\nTyping_Extensions==4.16.0\nav>=14\n\nruamel.yaml==1.0.post1 \n") == {
        "typing-extensions": "4.16.0", "ruamel-yaml": "1.0.post1"}
    assert len(audit.pinned(audit.PINS.read_text())) > 50


@pytest.mark.parametrize(("said", "index", "code"), [
    (answer(SOUND), installation(report("Jinja2", "3.1.6")), 0),
    (answer(VULNERABLE), installation(report("Jinja2", "3.1.6")), 1),
    (answer(SOUND), installation(report("Jinja2", "3.1.6", yanked=True)), 1),
    ("", "", 0),
])
def test_only_what_is_known_to_be_wrong_fails_the_build(monkeypatch, capsys, said, index, code):
    monkeypatch.setattr(audit, "_set_up", lambda: None)
    monkeypatch.setattr(audit, "_ask_auditor", lambda: said)
    monkeypatch.setattr(audit, "_ask_index", lambda: index)
    assert audit.main() == code
    assert "NOT AUDITED" in capsys.readouterr().out


def test_dependencies_at_odds_fail_the_build(monkeypatch):
    monkeypatch.setattr(audit, "_set_up", lambda: None)
    monkeypatch.setattr(audit, "_ask_auditor", lambda: "")
    monkeypatch.setattr(audit, "_ask_index", lambda: "")
    monkeypatch.setattr(audit, "PIP", ("false",))
    assert audit.main() == 1


def test_the_index_is_asked_alone_and_the_way_pip_is_set_up(monkeypatch):
    asked = {}

    def ask(*command, **surroundings):
        if "config" in command:
            return ("global.cert='/etc/all.crt'\nglobal.find-links='/wheels'\nglobal.index-url='https://one.example/simple'\n"
                    ":env:.index-url='https://other.example/simple'\n")
        asked.update(surroundings)
        return "said"
    monkeypatch.setattr(audit, "_ask", ask)
    assert audit._ask_index() == "said"
    assert asked == {"PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": "", "PIP_CERT": "/etc/all.crt",
                     "PIP_INDEX_URL": "https://other.example/simple"}
