"""Every table, by subject. Importing this package registers them all with the metadata."""

from server.store.tables.audit import AuditRow
from server.store.tables.boxes import BoxRow, DeviceRow
from server.store.tables.changes import ChangedFactRow, ChangeRow
from server.store.tables.crew_work import AssignmentRow, StandingDayRow, SummaryRow, VisitNoteRow, VisitRow
from server.store.tables.fact_row import BOOKKEEPING, FactRow
from server.store.tables.jobs import JobRow
from server.store.tables.keys import KeyRow
from server.store.tables.observations import ObservationRow
from server.store.tables.people import (
    AccountRow,
    CalendarLinkRow,
    CrewRow,
    GuestLinkRow,
    InstallationRow,
    InviteRow,
    KnownDeviceRow,
    MembershipRow,
    ProgramKeyRow,
    RecoveryCodeRow,
    SignInSessionRow,
    ThrottleRow,
)
from server.store.tables.photographs import PhotographRow
from server.store.tables.places import (
    BreakRow,
    CounterRow,
    FixtureRow,
    LevelRow,
    OpeningRow,
    RoomRow,
    WallRow,
)
from server.store.tables.practice import PracticeRow, PracticeTryRow
from server.store.tables.supply import CableRow, CircuitRow, PanelRow

__all__ = [
    "BOOKKEEPING", "AccountRow", "AssignmentRow", "AuditRow", "BoxRow", "BreakRow", "CableRow", "CalendarLinkRow", "ChangeRow", "ChangedFactRow",
    "CircuitRow", "CounterRow", "CrewRow", "DeviceRow", "FactRow", "FixtureRow", "GuestLinkRow", "InstallationRow",
    "InviteRow", "JobRow", "KeyRow", "KnownDeviceRow", "LevelRow", "MembershipRow", "ObservationRow", "OpeningRow", "PanelRow",
    "PhotographRow", "PracticeRow", "PracticeTryRow", "ProgramKeyRow", "RecoveryCodeRow", "RoomRow", "SignInSessionRow", "StandingDayRow", "SummaryRow",
    "ThrottleRow", "VisitNoteRow", "VisitRow", "WallRow",
]  # fmt: skip
