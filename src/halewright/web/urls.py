"""Every address on one page."""

from django.urls import include, path

from halewright.web.views import accounts, bands, blocks, class_bands, groups, people, sessions

handler404 = "halewright.web.views.refusals.not_here"
handler403 = "halewright.web.views.refusals.not_allowed"

_BAND = "group/<int:group_id>/bands/<int:band_id>/"
_SESSION = "plan/<int:plan_id>/<int:week>/<int:number>/"

urlpatterns = [
    path("", groups.groups, name="groups"),
    path("begin/", accounts.first_run, name="first-run"),
    path("sign-in/", accounts.sign_in, name="sign-in"),
    path("sign-out/", accounts.sign_out, name="sign-out"),
    path("demo/", groups.load_demo, name="load-demo"),
    path("bring-in/", groups.bring_in, name="bring-in"),
    path("group/<int:group_id>/", groups.group, name="group"),
    path("group/<int:group_id>/bring-in/", groups.bring_in_people, name="bring-in-people"),
    path("group/<int:group_id>/people/", people.people, name="people"),
    path("group/<int:group_id>/people/<str:key>/", people.person, name="person"),
    path("group/<int:group_id>/people/<str:key>/decide/", people.decide, name="decide"),
    path(
        "group/<int:group_id>/people/<str:key>/load/<str:movement>/<str:way>/",
        class_bands.card,
        name="load-card",
    ),
    path("group/<int:group_id>/bands/", bands.kit, name="bands"),
    path("group/<int:group_id>/bands/how-to-measure/", bands.how_to, name="how-to-measure"),
    path(_BAND, bands.band, name="band"),
    path(_BAND + "measure/", bands.measure, name="measure"),
    path(_BAND + "measure/keep/", bands.keep_readings, name="keep-readings"),
    path(_BAND + "check/", bands.check, name="check-band"),
    path(_BAND + "record/", bands.record, name="record-band"),
    path("group/<int:group_id>/block/", blocks.block, name="block"),
    path("group/<int:group_id>/plan/", blocks.plan_block, name="plan-block"),
    path("planning/<int:run_id>/", blocks.planning, name="planning"),
    path("planning/<int:run_id>/state/", blocks.planning_state, name="planning-state"),
    path("plan/<int:plan_id>/", blocks.plan, name="plan"),
    path("plan/<int:plan_id>/use/", blocks.use, name="use-plan"),
    path("plan/<int:plan_id>/breaches/", blocks.breaches, name="breaches"),
    path("plan/<int:plan_id>/breaches/accept/", blocks.accept, name="accept-breach"),
    path(_SESSION, sessions.session, name="session"),
    path(_SESSION + "run-sheet/", sessions.run_sheet, name="run-sheet"),
    path(_SESSION + "wall-copy/", sessions.wall_copy, name="wall-copy"),
    path(_SESSION + "bands/", class_bands.class_sheet, name="class-bands"),
    path(_SESSION + "show/", sessions.show_in_hall, name="show-in-hall"),
    path(_SESSION + "emergency/", sessions.emergency, name="emergency"),
    path("hall/", include("halewright.web.hall_urls")),
]
