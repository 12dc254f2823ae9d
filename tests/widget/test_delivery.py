"""Nothing the customer wrote is lost or said twice, whatever happens to the network, the service or the page."""

from __future__ import annotations

import json

from playwright.sync_api import expect

from tests.widget.consultations import GRAVITY_QUESTION

GRAVITY = GRAVITY_QUESTION["text"]


def test_a_message_taken_but_not_answered_is_there_once_after_a_reload(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address, lost_connections_expected=True)
    desk.cut_answers = 1
    customer.write("stuck at 1.020")
    desk.wait_until(lambda: desk.said() == ["stuck at 1.020"])
    desk.stop()
    desk.start()
    customer.page.reload()
    customer.sees_question(GRAVITY)
    expect(customer.lines).to_have_count(1)
    assert desk.said() == ["stuck at 1.020"]


def test_an_opening_that_was_cut_opens_one_chat(start_desk, visit) -> None:
    desk = start_desk()
    desk.cut_openings = 1
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    assert len(desk.chats) == 1
    assert desk.said() == ["stuck at 1.020"]


def test_what_is_written_while_the_service_is_down_is_sent_in_order_when_it_is_back(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("first")
    customer.sees_question(GRAVITY)
    desk.stop()
    customer.write("second")
    customer.write("third")
    customer.sees("Not sent yet. It is kept here and will be sent by itself.")
    customer.sees("We cannot reach the desk at the moment.")
    desk.start()
    customer.page.get_by_role("button", name="Send again").first.click()
    expect(customer.sheet.locator(".waiting .line")).to_have_count(0)
    assert desk.said() == ["first", "second", "third"]
    expect(customer.lines).to_have_count(3)


def test_unsent_text_survives_a_reload_with_its_client_id_and_is_sent_by_itself(start_desk, visit) -> None:
    desk = start_desk()
    desk.status_for_messages = 503
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("stuck at 1.020")
    expect(customer.lines).to_have_attribute("data-state", "kept")
    before = json.loads(customer.page.evaluate("Object.values(localStorage)[0]"))["unsent"]
    customer.page.reload()
    expect(customer.lines).to_have_count(1)
    assert json.loads(customer.page.evaluate("Object.values(localStorage)[0]"))["unsent"] == before
    desk.status_for_messages = None
    customer.sees_question(GRAVITY)
    assert [message["client_id"] for message in desk.messages()] == [before[0]["client_id"]]


def test_a_refused_message_is_given_back_to_be_changed_and_holds_up_no_other(start_desk, visit) -> None:
    desk = start_desk()
    desk.status_for_messages = 422
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("nonsense")
    customer.sees("Not accepted: gravity: is outside what is possible here.")
    desk.status_for_messages = None
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    customer.tap("Change it")
    expect(customer.sheet.locator("textarea")).to_have_value("nonsense")
    assert desk.said() == ["stuck at 1.020"]


def test_a_chat_that_is_gone_takes_its_token_with_it_and_a_new_one_is_offered(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    token = next(iter(desk.chats.values())).token
    desk.stop()
    customer.write("still stuck")
    desk.chats.clear()
    desk.start()
    expect(customer.sheet).to_have_attribute("state", "ended")
    assert token not in customer.kept_in_browser()
    customer.tap("Start a new sheet")
    customer.sees_question(GRAVITY)
    assert desk.said() == ["still stuck"]


def test_the_token_is_random_and_travels_only_in_its_header(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    token = next(iter(desk.chats.values())).token
    assert len(token) >= 43  # 256 bits in base64
    assert [path for _, path, headers in desk.requests if token in path or token in headers.get("Referer", "")] == []
    assert customer.page.evaluate("Object.keys(localStorage)") == [f"spile-chat {desk.address}"]


def test_nothing_said_stays_in_the_browser_once_it_is_acknowledged(start_desk, visit) -> None:
    customer = visit(start_desk().address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    assert "stuck" not in customer.kept_in_browser()


def test_a_persons_words_arrive_live(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    desk.from_the_shop("Bring the yeast packet along, please.")
    expect(customer.page.get_by_role("log")).to_contain_text("Bring the yeast packet along, please.")


def test_the_stream_is_resumed_after_the_last_number_and_repeats_nothing(start_desk, visit) -> None:
    desk = start_desk()
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    desk.stop()
    desk.from_the_shop("written while you were away")
    desk.start()
    customer.sees("written while you were away")
    desk.from_the_shop("and now again")
    customer.sees("and now again")
    expect(customer.sheet.get_by_text("written while you were away")).to_have_count(1)
    assert desk.last_resumed() >= 2


def test_where_streams_do_not_get_through_the_chat_is_polled(start_desk, visit) -> None:
    desk = start_desk()
    desk.streams_work = False
    customer = visit(desk.address, lost_connections_expected=True)
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
    desk.from_the_shop("We are here.")
    customer.sees("We are here.")


def test_more_tabs_than_a_browser_has_connections_can_all_send_and_see_each_other(start_desk, visit) -> None:
    desk = start_desk()
    first = visit(desk.address)
    first.write("tab 0")
    first.sees_question(GRAVITY)
    others = [visit(desk.address) for _ in range(7)]
    for number, tab in enumerate(others, 1):
        tab.page.bring_to_front()
        tab.write(f"tab {number}")
        expect(tab.sheet.locator(".waiting .line")).to_have_count(0)
    assert desk.said() == [f"tab {number}" for number in range(8)]
    expect(first.lines).to_have_count(8)


def test_a_browser_that_keeps_nothing_says_so_and_still_works(start_desk, visit, context) -> None:
    refuse = "get() { throw new DOMException('no', 'SecurityError'); }"
    context.add_init_script(f"Object.defineProperty(window, 'localStorage', {{ {refuse} }})")
    customer = visit(start_desk().address)
    customer.sees("This browser does not let the page keep anything.")
    customer.write("stuck at 1.020")
    customer.sees_question(GRAVITY)
