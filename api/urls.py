"""The whole address book."""

from django.urls import include, path

from api.entries.registry import VERBS
from api.feeds.calendar import calendar_feed
from api.rest.another_week import AnotherWeekView, SearchOverView
from api.rest.coming import ComingView
from api.rest.entries import EntriesView, OneEntryView, SettleView, view_of
from api.rest.figures import FiguresView
from api.rest.how_big import HowBigView
from api.rest.me import MeView, StudiosView
from api.rest.members import InvitationsView, InvitationView, MembersView, MemberView
from api.rest.missed import MissedView
from api.rest.notebook import NotebookPageView, NotebookRowView, NotebookView
from api.rest.notebook_files import NotebookFileView
from api.rest.orders import NeedsView, OrdersView
from api.rest.put_by import PutByView
from api.rest.records import record_addresses
from api.rest.reminders import RemindersView
from api.rest.schema import SchemaView
from api.rest.shelves import ShelvesView
from api.rest.sources import SourcesView
from api.rest.thanks import ThanksView, TotalsView
from api.rest.tokens import TokensView, TokenView
from api.rest.what_if import WhatIfView
from api.rest.whole_studio import WholeStudioView
from api.web.accounts.account import account_page
from api.web.accounts.join import join_page
from api.web.accounts.password import forgotten_page, new_password_page, password_page
from api.web.accounts.signing import sign_in_page, sign_out_page
from api.web.another.page import another_page
from api.web.ask.page import ask_page
from api.web.begin.page import begin_page, begin_step_page
from api.web.coming.page import coming_page
from api.web.figures.view import cautions_page, figures_page, thing_page
from api.web.found.page import found_page
from api.web.group.page import group_page, slips_page
from api.web.labels.page import labels_page
from api.web.language.page import language_page
from api.web.missed.page import missed_page
from api.web.note.carried import carried_forms
from api.web.note.looks import look_page, looks_page
from api.web.note.page import note_page, notes_page
from api.web.note.said import said_page
from api.web.note.waiting import waiting_page
from api.web.orders.view import order_file, order_page, orders_page
from api.web.phone.files import manifest_file, no_signal_page, script_file, worker_file
from api.web.phone.kept import kept_page
from api.web.phone.trust import trust_file, trust_page
from api.web.problems.page import problem_page, problems_page
from api.web.put_by.page import put_by_page
from api.web.recipes.page import recipe_page, recipes_page
from api.web.recipes.writing import change_recipe_page, new_recipe_page
from api.web.reference.page import reference_page
from api.web.reminders.page import reminders_page
from api.web.rules.page import rule_page, rules_page
from api.web.run_sheet.page import run_sheet_page
from api.web.runs.page import run_page
from api.web.season.page import season_page
from api.web.sheets.file import sheets_file
from api.web.shelves.page import shelves_page
from api.web.source_link.links import source_links_page
from api.web.source_link.page import link_page, open_link
from api.web.sources.page import source_page, sources_page
from api.web.stopping import stop_page
from api.web.thanks.page import (
    hand_overs_file,
    thanks_file,
    thanks_page,
    totals_file,
    totals_page,
)
from api.web.today.page import today_page
from api.web.week import sheet_page, week_page

urlpatterns = [
    path("", week_page, name="week"),
    path("another/", another_page, name="another"),
    path("ask/", ask_page, name="ask"),
    path("runs/<str:key>/", run_page, name="run"),
    path("recipes/", recipes_page, name="recipes"),
    path("recipes/<str:key>/", recipe_page, name="recipe"),
    path("recipes/<str:key>/change/", change_recipe_page, name="recipe-change"),
    path("rules/", rules_page, name="rules"),
    path("rules/<str:key>/", rule_page, name="rule"),
    path("begin/", begin_page, name="begin"),
    path("begin/<str:step>/", begin_step_page, name="begin-step"),
    path("new-recipe/", new_recipe_page, name="recipe-new"),
    path("shelves/", shelves_page, name="shelves"),
    path("today/", today_page, name="today"),
    path("note/", notes_page, name="notes"),
    path("note/waiting/", waiting_page, name="note-waiting"),
    path("note/kept/", kept_page, name="kept"),
    path("note/carried/", carried_forms, name="note-carried"),
    path("note/looks/", looks_page, name="note-looks"),
    path("note/looks/<uuid:entry>/", look_page, name="note-look"),
    path("note/said/<uuid:entry>/", said_page, name="note-said"),
    path("note/<slug:verb>/", note_page, name="note"),
    path("labels/", labels_page, name="labels"),
    path("season/", season_page, name="season"),
    path("found/", found_page, name="found"),
    # Codes are the studio's own words, and may hold a slash.
    path("runs/<path:run>/sheet/", run_sheet_page, name="run-sheet"),
    path("runs/<path:run>/group/", group_page, name="group"),
    path("runs/<path:run>/slips/", slips_page, name="slips"),
    path("coming/", coming_page, name="coming"),
    path("missed/", missed_page, name="missed"),
    path("sources/", sources_page, name="sources"),
    path("sources/<int:source>/", source_page, name="source"),
    path("sources/<int:source>/links/", source_links_page, name="source-links"),
    path("orders/", orders_page, name="orders"),
    path("orders/<int:order>/", order_page, name="order"),
    path("orders/<int:order>.csv", order_file, name="order-csv"),
    path("reminders/", reminders_page, name="reminders"),
    path("stop/<str:token>/", stop_page, name="stop"),
    path("saved/<str:token>/", open_link, name="source-link"),
    path("saved/by/<str:mark>/", link_page, name="source-link-page"),
    path("calendar/<str:token>.ics", calendar_feed, name="calendar"),
    path("account/", account_page, name="account"),
    path("language/", language_page, name="language"),
    path("sign-in/", sign_in_page, name="sign-in"),
    path("sign-out/", sign_out_page, name="sign-out"),
    path("join/<str:token>/", join_page, name="join"),
    path("password/", password_page, name="password"),
    path("password/forgotten/", forgotten_page, name="forgotten"),
    path("password/new/<str:token>/", new_password_page, name="new-password"),
    path("no-signal/", no_signal_page, name="no-signal"),
    path("trust/", trust_page, name="trust"),
    path("trust/larder.crt", trust_file, name="trust-file"),
    path("worker.js", worker_file, name="worker"),
    path("script/larder.<slug:mark>.js", script_file, name="script"),
    path("style/<slug:names>.<slug:mark>.css", sheets_file, name="sheets"),
    path("larder.webmanifest", manifest_file, name="manifest"),
    path("sheet.txt", sheet_page, name="sheet"),
    path("figures/", figures_page, name="figures"),
    path("figures/cautions/", cautions_page, name="cautions"),
    path("figures/<slug:kind>/<slug:slug>/", thing_page, name="thing"),
    path("api/v1/coming/", ComingView.as_view()),
    path("api/v1/missed/", MissedView.as_view()),
    path("sources/<int:source>/thanks/", thanks_page, name="thanks"),
    path("sources/<int:source>/thanks.csv", thanks_file, name="thanks-csv"),
    path("totals/", totals_page, name="totals"),
    path("totals.csv", totals_file, name="totals-csv"),
    path("hand-overs.csv", hand_overs_file, name="hand-overs-csv"),
    path("put-by/", put_by_page, name="put_by"),
    path("api/v1/put-by/", PutByView.as_view()),
    path("api/v1/how-big/", HowBigView.as_view()),
    path("api/v1/shelves/", ShelvesView.as_view()),
    path("api/v1/sources/", SourcesView.as_view()),
    path("api/v1/figures/", FiguresView.as_view()),
    path("api/v1/orders/", OrdersView.as_view()),
    path("api/v1/needs/", NeedsView.as_view()),
    path("api/v1/me/", MeView.as_view()),
    path("api/v1/studios/", StudiosView.as_view()),
    path("api/v1/another-week/", AnotherWeekView.as_view()),
    path("api/v1/another-week/<uuid:search>/", SearchOverView.as_view()),
    path("api/v1/tokens/", TokensView.as_view()),
    path("api/v1/tokens/<int:token>/", TokenView.as_view()),
    path("api/v1/members/", MembersView.as_view()),
    path("api/v1/members/<int:member>/", MemberView.as_view()),
    path("api/v1/invitations/", InvitationsView.as_view()),
    path("api/v1/invitations/<int:invitation>/", InvitationView.as_view()),
    path("api/v1/week/", WhatIfView.as_view()),
    path("api/v1/thanks/", ThanksView.as_view()),
    path("api/v1/totals/", TotalsView.as_view()),
    path("api/v1/reminders/", RemindersView.as_view()),
    path("api/v1/notebook.zip", WholeStudioView.as_view()),
    path("api/v1/notebook/", NotebookView.as_view()),
    path("api/v1/notebook/<str:page>.csv", NotebookFileView.as_view()),
    path("api/v1/notebook/<str:page>/", NotebookPageView.as_view()),
    path("api/v1/notebook/<str:page>/<str:key>/", NotebookRowView.as_view()),
    path("api/v1/schema.json", SchemaView.as_view(), name="contract"),
    path("api/", reference_page, name="reference"),
    path("problems/", problems_page, name="problems"),
    path("problems/<slug:slug>/", problem_page, name="problem"),
    path("api/v1/", include(list(record_addresses()))),
    path("api/v1/entries/", EntriesView.as_view()),
    path("api/v1/entries/<uuid:entry>/", OneEntryView.as_view()),
    path("api/v1/entries/<uuid:entry>/settle/", SettleView.as_view()),
    *(path(f"api/v1/entries/{name}/", view_of(verb).as_view()) for name, verb in VERBS.items()),
]

handler400 = "api.web.errors.bad_request"
handler404 = "api.web.errors.not_found"
handler500 = "api.web.errors.fault"
