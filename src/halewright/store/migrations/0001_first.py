import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import halewright.store.fields


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Group",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.SlugField(max_length=80)),
                ("name", models.CharField(max_length=200)),
                ("schema", models.CharField(max_length=40)),
                ("version", models.PositiveSmallIntegerField()),
                ("document", models.JSONField()),
                ("starts_on", models.DateField()),
                ("weeks", models.PositiveSmallIntegerField()),
                ("kept_at", models.DateTimeField()),
            ],
        ),
        migrations.CreateModel(
            name="Organisation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=200, unique=True)),
            ],
        ),
        migrations.CreateModel(
            name="Band",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("label", models.CharField(max_length=60)),
                ("place", models.PositiveSmallIntegerField()),
                (
                    "material",
                    models.CharField(
                        choices=[
                            ("latex", "latex"),
                            ("latex_free", "latex_free"),
                            ("not_known", "not_known"),
                        ],
                        max_length=12,
                    ),
                ),
                (
                    "shape",
                    models.CharField(choices=[("strip", "strip"), ("loop", "loop")], max_length=8),
                ),
                ("length_m", models.FloatField(null=True)),
                ("width_m", models.FloatField(null=True)),
                ("count", models.PositiveSmallIntegerField(default=1)),
                ("rank", models.PositiveSmallIntegerField(null=True)),
                ("bought_on", models.DateField(null=True)),
                ("checked_on", models.DateField(null=True)),
                ("retired_on", models.DateField(null=True)),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="bands",
                        to="store.group",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Member",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=150)),
                (
                    "role",
                    models.CharField(
                        choices=[("leader", "Leader"), ("assistant", "Assistant")], max_length=20
                    ),
                ),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
            ],
        ),
        migrations.AddField(
            model_name="group",
            name="kept_by",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="+", to="store.member"
            ),
        ),
        migrations.AddField(
            model_name="group",
            name="organisation",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
            ),
        ),
        migrations.CreateModel(
            name="BandPoint",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("slack_length_m", models.FloatField()),
                ("stretched_length_m", models.FloatField()),
                ("reading_n", models.FloatField()),
                (
                    "band",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="points",
                        to="store.band",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Participant",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.CharField(max_length=80)),
                ("place", models.PositiveSmallIntegerField()),
                ("preferred_name", models.CharField(max_length=120)),
                (
                    "sex",
                    models.CharField(
                        choices=[
                            ("female", "female"),
                            ("male", "male"),
                            ("not_stated", "not_stated"),
                        ],
                        max_length=12,
                    ),
                ),
                ("birth_year", models.PositiveSmallIntegerField(null=True)),
                ("born_on", models.DateField(null=True)),
                ("joined_on", models.DateField(null=True)),
                ("left_on", models.DateField(null=True)),
                ("days", models.JSONField(default=list)),
                ("away", models.JSONField(default=list)),
                ("contacts", models.JSONField(default=list)),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="participants",
                        to="store.group",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="HealthFact",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("about", "What we know"),
                            ("limits", "Limits told"),
                            ("screen", "Health screen"),
                            ("decision", "Decision on an ask-first flag"),
                        ],
                        max_length=12,
                    ),
                ),
                ("schema", models.CharField(max_length=40)),
                ("version", models.PositiveSmallIntegerField()),
                ("text", halewright.store.fields.HealthText()),
                ("recorded_at", models.DateTimeField()),
                (
                    "recorded_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.member",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
                (
                    "participant",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="facts",
                        to="store.participant",
                    ),
                ),
            ],
            options={
                "ordering": ("recorded_at", "id"),
            },
        ),
        migrations.CreateModel(
            name="PlanDocument",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("schema", models.CharField(max_length=40)),
                ("version", models.PositiveSmallIntegerField()),
                ("document", models.JSONField()),
                ("seed", models.PositiveBigIntegerField()),
                ("objective", models.BigIntegerField()),
                ("made_at", models.DateTimeField()),
                ("accepted_at", models.DateTimeField(null=True)),
                (
                    "accepted_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.member",
                    ),
                ),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="plans",
                        to="store.group",
                    ),
                ),
                (
                    "made_by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.member",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="AcceptedBreach",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("rule", models.CharField(max_length=80)),
                ("week", models.PositiveSmallIntegerField(default=0)),
                ("session", models.PositiveSmallIntegerField(default=0)),
                ("station", models.PositiveSmallIntegerField(default=0)),
                ("person", models.CharField(blank=True, default="", max_length=80)),
                ("who", models.CharField(max_length=150)),
                ("why", models.TextField()),
                ("at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.member",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
                (
                    "plan",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="accepted",
                        to="store.plandocument",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="PlanningRun",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[("running", "Running"), ("done", "Done"), ("stopped", "Stopped")],
                        default="running",
                        max_length=12,
                    ),
                ),
                ("seed", models.PositiveBigIntegerField()),
                ("said", models.CharField(blank=True, default="", max_length=300)),
                ("done_share", models.FloatField(default=0.0)),
                ("started_at", models.DateTimeField()),
                ("beat_at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.member",
                    ),
                ),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="runs",
                        to="store.group",
                    ),
                ),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
                (
                    "plan",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="store.plandocument",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="SessionLog",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("week", models.PositiveSmallIntegerField()),
                ("session", models.PositiveSmallIntegerField()),
                ("started_at", models.DateTimeField(null=True)),
                ("saved_at", models.DateTimeField()),
                ("note", models.JSONField(default=dict)),
                (
                    "organisation",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, to="store.organisation"
                    ),
                ),
                (
                    "plan",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="logs",
                        to="store.plandocument",
                    ),
                ),
            ],
        ),
        migrations.AddConstraint(
            model_name="member",
            constraint=models.CheckConstraint(
                condition=models.Q(("role__in", ["leader", "assistant"])), name="member_role_known"
            ),
        ),
        migrations.AddConstraint(
            model_name="member",
            constraint=models.CheckConstraint(
                condition=models.Q(("name", ""), _negated=True), name="member_has_a_name"
            ),
        ),
        migrations.AddConstraint(
            model_name="group",
            constraint=models.UniqueConstraint(
                fields=("organisation", "key"), name="group_key_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="group",
            constraint=models.CheckConstraint(
                condition=models.Q(("weeks__gte", 1)), name="group_has_weeks"
            ),
        ),
        migrations.AddConstraint(
            model_name="group",
            constraint=models.CheckConstraint(
                condition=models.Q(("version__gte", 1)), name="group_version_from_1"
            ),
        ),
        migrations.AddConstraint(
            model_name="bandpoint",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("slack_length_m__gt", 0),
                    ("stretched_length_m__gte", models.F("slack_length_m")),
                    ("reading_n__gte", 0),
                ),
                name="band_point_is_a_pull",
            ),
        ),
        migrations.AddConstraint(
            model_name="band",
            constraint=models.UniqueConstraint(fields=("group", "label"), name="band_label_once"),
        ),
        migrations.AddConstraint(
            model_name="band",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("material__in", ["latex", "latex_free", "not_known"]),
                    ("shape__in", ["strip", "loop"]),
                ),
                name="band_words_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="band",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("length_m__isnull", True), ("length_m__gt", 0), _connector="OR"),
                    models.Q(("width_m__isnull", True), ("width_m__gt", 0), _connector="OR"),
                ),
                name="band_size_above_nothing",
            ),
        ),
        migrations.AddConstraint(
            model_name="participant",
            constraint=models.UniqueConstraint(
                fields=("group", "key"), name="participant_key_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="participant",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("key", ""), _negated=True),
                    models.Q(("preferred_name", ""), _negated=True),
                ),
                name="participant_is_named",
            ),
        ),
        migrations.AddConstraint(
            model_name="participant",
            constraint=models.CheckConstraint(
                condition=models.Q(("sex__in", ["female", "male", "not_stated"])),
                name="participant_sex_known",
            ),
        ),
        migrations.AddIndex(
            model_name="healthfact",
            index=models.Index(fields=["participant", "kind", "recorded_at"], name="fact_newest"),
        ),
        migrations.AddConstraint(
            model_name="healthfact",
            constraint=models.CheckConstraint(
                condition=models.Q(("kind__in", ["about", "limits", "screen", "decision"])),
                name="fact_kind_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="healthfact",
            constraint=models.CheckConstraint(
                condition=models.Q(("version__gte", 1)), name="fact_version_from_1"
            ),
        ),
        migrations.AddConstraint(
            model_name="plandocument",
            constraint=models.CheckConstraint(
                condition=models.Q(("version__gte", 1)), name="plan_version_from_1"
            ),
        ),
        migrations.AddConstraint(
            model_name="plandocument",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("accepted_at__isnull", True), ("accepted_by__isnull", True)),
                    models.Q(("accepted_at__isnull", False), ("accepted_by__isnull", False)),
                    _connector="OR",
                ),
                name="plan_accepted_by_somebody",
            ),
        ),
        migrations.AddConstraint(
            model_name="acceptedbreach",
            constraint=models.UniqueConstraint(
                fields=("plan", "rule", "week", "session", "station", "person"),
                name="breach_accepted_once",
            ),
        ),
        migrations.AddConstraint(
            model_name="acceptedbreach",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("who", ""), _negated=True), models.Q(("why", ""), _negated=True)
                ),
                name="breach_has_who_and_why",
            ),
        ),
        migrations.AddConstraint(
            model_name="planningrun",
            constraint=models.UniqueConstraint(
                condition=models.Q(("state", "running")),
                fields=("group",),
                name="one_run_at_a_time",
            ),
        ),
        migrations.AddConstraint(
            model_name="planningrun",
            constraint=models.CheckConstraint(
                condition=models.Q(("state__in", ["running", "done", "stopped"])),
                name="run_state_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="planningrun",
            constraint=models.CheckConstraint(
                condition=models.Q(("done_share__gte", 0), ("done_share__lte", 1)),
                name="run_share_0_to_1",
            ),
        ),
        migrations.AddConstraint(
            model_name="sessionlog",
            constraint=models.UniqueConstraint(
                fields=("plan", "week", "session"), name="session_log_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="sessionlog",
            constraint=models.CheckConstraint(
                condition=models.Q(("session__gte", 1), ("week__gte", 1)), name="session_log_from_1"
            ),
        ),
    ]
