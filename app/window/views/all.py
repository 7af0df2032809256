"""Which views there are."""

from app.window.countback.view import CountbackView
from app.window.desk import Desk
from app.window.enquiry.view import EnquiryView
from app.window.exchange.bring_view import BringView
from app.window.exchange.give_view import GiveView
from app.window.filing import Filing
from app.window.marks.view import MarksView
from app.window.orders.view import OrdersView
from app.window.people.view import PeopleView
from app.window.sheets.view import SheetsView
from app.window.views.view import View
from app.window.workshop.view import WorkshopView


def all_views(desk: Desk, filing: Filing) -> tuple[View, ...]:
    """Make all views beside the wall, on a desk."""
    return (
        CountbackView(desk),
        PeopleView(desk),
        OrdersView(desk),
        EnquiryView(desk),
        WorkshopView(desk),
        MarksView(desk),
        SheetsView(desk, filing),
        BringView(desk, filing),
        GiveView(desk, filing),
    )
