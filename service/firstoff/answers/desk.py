"""The desk where questions are asked: one method a question, the same for HTTP and the command line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from threading import Lock
from typing import TypeVar

from firstoff.answers import catalogue
from firstoff.answers.bench import Bench, laid_out
from firstoff.answers.codes import code_detail, code_list
from firstoff.answers.diagnosis import diagnosis_answer
from firstoff.answers.diagnosis_carry import carry_answer
from firstoff.answers.diagnosis_words import Understood, understood
from firstoff.answers.energies import curves_answer, energies_answer
from firstoff.answers.grounds import grounded
from firstoff.answers.isolation import isolation_answer
from firstoff.answers.job_sheet import job_sheet
from firstoff.answers.learning import Learned, learned_of
from firstoff.answers.live import live_points_answer
from firstoff.answers.make_safe import make_safe_answer
from firstoff.answers.outcomes import outcome_kept, outcome_summary
from firstoff.answers.pareto import pareto_answer
from firstoff.answers.plan import plan_answer
from firstoff.answers.pocket import pocket_answer
from firstoff.answers.reach import exposed_answer, hidden_answer
from firstoff.answers.reading import ReadingRequest, reading_answer
from firstoff.answers.record import safety_record_answer
from firstoff.answers.search import Searcher
from firstoff.answers.service_modes import service_mode_list
from firstoff.answers.socket_check import socket_check_answer
from firstoff.answers.supply_picture import supply_answer
from firstoff.answers.while_open import while_open_answer
from firstoff.appliance.model import Appliance
from firstoff.collection.opening import Opened
from firstoff.diagnosis import taught
from firstoff.drawing import Supply
from firstoff.errors import ContentBroken, FirstoffError, OutOfTime, SerialNeeded, StateFailed, StoreError, WritingOff
from firstoff.outcomes import Counted, OutcomeLog
from firstoff.settings import Settings
from firstoff.sheet import Job
from firstoff_contract.catalogue import ComponentDetail, ComponentList, ModelDetail, ModelList
from firstoff_contract.codes import CodeDetail, CodeList, ServiceModeList
from firstoff_contract.common import Answer
from firstoff_contract.diagnosis import CarryAnswer, Diagnosis, DiagnosisRequest
from firstoff_contract.energies import ComponentCurves, Energies
from firstoff_contract.energy import IsolationAnswer, LivePoints
from firstoff_contract.outcomes import OutcomeKept, OutcomeReport, OutcomeSummary
from firstoff_contract.pocket import Pocket
from firstoff_contract.procedure import Procedure
from firstoff_contract.reach import Exposed, Hidden, WhileOpen
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.record import RecordRequest, SafetyRecord
from firstoff_contract.removal import ParetoAnswer, PlanRequest, RemovalPlan
from firstoff_contract.search import SearchAnswer, SuggestAnswer
from firstoff_contract.socket import SocketCheck

Said = TypeVar("Said", bound=Answer | Job | Supply)


class Desk:
    """Answers from one opened collection. Safe to ask from several threads."""

    def __init__(self, opened: Opened, settings: Settings, log: OutcomeLog | None = None) -> None:
        self.opened = opened
        self.settings = settings
        self._collection = opened.collection
        self._lock = Lock()
        self._log = log or (OutcomeLog(settings.state) if settings.state else None)
        self._searcher = Searcher(opened)
        self._benches: dict[tuple[str, str | None], Bench] = {}

    def renewed(self, opened: Opened) -> Desk:
        """A desk for another revision of the content, with the same outcomes."""
        return Desk(opened, self.settings, self._log)

    def search(
        self,
        query: str,
        *,
        model: str | None = None,
        serial: str | None = None,
        kind: str | None = None,
        lang: str | None = None,
        limit: int = 10,
    ) -> SearchAnswer:
        """Symptoms, components, codes and models, best first.

        :raises NotFound: ``model`` is unknown.
        """
        counted = self.counted()

        def shown(appliance: Appliance) -> tuple[Appliance, float]:
            frequencies = self._learned(appliance, counted).frequencies
            return taught(appliance, frequencies), frequencies.learned

        return self._searcher.answer(
            query, model=model, serial=serial, kind=kind, lang=lang, limit=limit, taught=shown, as_of=counted.revision
        )

    def suggest(
        self,
        query: str,
        *,
        model: str | None = None,
        serial: str | None = None,
        lang: str | None = None,
        limit: int = 10,
    ) -> SuggestAnswer:
        """Phrases that go on from a half-typed query, best first.

        :raises NotFound: ``model`` is unknown.
        """
        return self._searcher.completions(query, model=model, serial=serial, lang=lang, limit=limit)

    def models(self, number: str | None, offset: int, limit: int) -> ModelList:
        """All models, or those a number on a rating plate stands for."""
        return catalogue.model_list(self._collection, number, offset, limit, "/v1/models")

    def model(self, model: str, serial: str | None) -> ModelDetail:
        """:raises NotFound: ``model`` is unknown."""
        appliances = self._collection.appliances(model, serial)
        return grounded(catalogue.model_detail(self._collection, appliances), appliances)

    def components(self, model: str, serial: str | None, offset: int, limit: int) -> ComponentList:
        """:raises NotFound: ``model`` is unknown."""
        appliances = self._collection.appliances(model, serial)
        return grounded(catalogue.component_list(appliances, offset, limit, serial), appliances)

    def component(self, model: str, component: str, serial: str | None) -> ComponentDetail:
        """:raises NotFound: ``model`` or ``component`` is unknown."""
        return self._agreed(model, serial, lambda each: catalogue.component_detail(each, component))

    def removal_plan(self, model: str, asked: PlanRequest) -> RemovalPlan:
        """:raises TargetUnreachable: no plan reaches a target with the tools given."""
        return self._agreed(model, asked.serial, lambda each: plan_answer(self._bench(each), self.settings, asked))

    def pareto(self, model: str, asked: PlanRequest) -> ParetoAnswer:
        """:raises TargetUnreachable: no plan reaches a target within the limits given."""
        return self._agreed(model, asked.serial, lambda each: pareto_answer(self._bench(each), self.settings, asked))

    def exposed(
        self,
        model: str,
        serial: str | None,
        *,
        off: Iterable[str],
        states: Iterable[str] = (),
        tools: Iterable[str] | None = None,
    ) -> Exposed:
        """:raises NotFound: a name is unknown."""
        return self._agreed(
            model, serial, lambda each: exposed_answer(self._bench(each), off=off, states=states, tools=tools)
        )

    def hidden(self, model: str, component: str, serial: str | None) -> Hidden:
        """:raises NotFound: ``model`` or ``component`` is unknown."""
        return self._agreed(model, serial, lambda each: hidden_answer(self._bench(each), self.settings, component))

    def while_open(self, model: str, asked: PlanRequest) -> WhileOpen:
        """:raises TargetUnreachable: no plan reaches a target within the limits given."""
        wear = self._collection.vocabulary.wear_modes
        return self._agreed(
            model, asked.serial, lambda each: while_open_answer(self._bench(each), self.settings, asked, wear)
        )

    def safety_record(self, model: str, asked: RecordRequest) -> SafetyRecord:
        """:raises BadRequest: a reading makes no sense."""
        return self._agreed(model, asked.serial, lambda each: safety_record_answer(each, asked))

    def job_sheet(self, model: str, asked: PlanRequest) -> Job:
        """:raises TargetUnreachable: no plan reaches a target with the tools given."""
        return self._agreed(model, asked.serial, lambda each: job_sheet(self._bench(each), self.settings, asked))

    def make_safe(self, model: str, asked: PlanRequest) -> Procedure:
        """:raises TargetUnreachable: no plan reaches a target with the tools given."""
        return self._agreed(model, asked.serial, lambda each: make_safe_answer(self._bench(each), self.settings, asked))

    def live_points(
        self,
        model: str,
        serial: str | None,
        *,
        opened: Iterable[str],
        off: Iterable[str],
        released: Iterable[str],
        at: Iterable[str] = (),
        assume: Iterable[str] = (),
        worst: bool = False,
    ) -> LivePoints:
        """:raises NotFound: a name is unknown."""
        asked = {"opened": opened, "off": off, "released": released, "at": at, "assume": assume}
        return self._agreed(model, serial, lambda each: live_points_answer(each, self.settings, **asked, worst=worst))

    def supply(
        self,
        model: str,
        serial: str | None,
        *,
        opened: Iterable[str],
        off: Iterable[str],
        released: Iterable[str],
        at: Iterable[str] = (),
    ) -> Supply:
        """:raises NotFound: a name is unknown."""
        return self._agreed(
            model, serial, lambda each: supply_answer(each, opened=opened, off=off, released=released, at=at)
        )

    def pocket(self, model: str, serial: str | None) -> Pocket:
        """:raises NotFound: ``model`` is unknown."""
        appliances = self._collection.appliances(model, serial)
        return self._agreed(model, serial, lambda each: pocket_answer(each, self.settings, appliances))

    def energies(self, model: str, serial: str | None, ambient: float | None = None) -> Energies:
        """:raises NotFound: ``model`` is unknown."""
        return self._agreed(model, serial, lambda each: energies_answer(each, self.settings, ambient))

    def curves(
        self, model: str, component: str, serial: str | None, celsius: float | None = None, ohms: float | None = None
    ) -> ComponentCurves:
        """:raises BadRequest: nothing in the component follows a curve, or the value lies outside it."""
        return self._agreed(model, serial, lambda each: curves_answer(each, component, celsius, ohms))

    def socket_check(self, model: str, serial: str | None, supply: str | None, measured: Iterable[str]) -> SocketCheck:
        """:raises BadRequest: a value cannot be read, or it is not said which supply."""
        values = list(measured)
        return self._agreed(model, serial, lambda each: socket_check_answer(each, supply, values))

    def reading(self, model: str, asked: ReadingRequest) -> ReadingAnswer:
        """:raises BadRequest: the question makes no sense."""
        return self._agreed(model, asked.serial, lambda each: reading_answer(each, asked))

    def isolation(self, model: str, serial: str | None, *, touch: Iterable[str]) -> IsolationAnswer:
        """:raises NotFound: a name is unknown."""
        return self._agreed(model, serial, lambda each: isolation_answer(self._bench(each), self.settings, touch=touch))

    def diagnosis(self, model: str, asked: DiagnosisRequest) -> Diagnosis:
        """:raises BadRequest: the findings contradict themselves."""
        there = self._understood(model, asked.serial, asked.symptoms)
        absent = self._understood(model, asked.serial, asked.absent)
        told = asked.model_copy(update={"symptoms": there.symptoms, "absent": absent.symptoms})
        counted = self.counted()
        found = self._agreed(
            model, asked.serial, lambda each: diagnosis_answer(self._bench(each), told, self._learned(each, counted))
        )
        return found.model_copy(update={"understood": [*there.notes, *absent.notes]})

    def carry(self, model: str, serial: str | None, symptoms: Iterable[str], parts: int) -> CarryAnswer:
        """:raises NotFound: a name is unknown."""
        there = self._understood(model, serial, symptoms)
        counted = self.counted()
        found = self._agreed(
            model,
            serial,
            lambda each: carry_answer(self._bench(each), there.symptoms, parts, self._learned(each, counted)),
        )
        return found.model_copy(update={"understood": there.notes})

    def counted(self) -> Counted:
        """What jobs have shown up to now.

        :raises StateFailed: it cannot be read.
        """
        return self._log.counted() if self._log else Counted()

    def prepare(self) -> None:
        """Make ready to keep outcomes, where that is wanted.

        :raises StateFailed: the folder cannot be used.
        """
        if self._log:
            self._log.prepare()

    def warm(self, models: int = 100) -> None:
        """Compile the first ``models`` models now, so that nobody waits for it who asks first."""
        for entry in self.opened.collection.models[:models]:
            self.opened.collection.appliances(entry.id)

    def outcome(self, asked: OutcomeReport, key: str) -> OutcomeKept:
        """Keep what a job has shown; ``key`` is the same for the same job however often it is sent.

        :raises WritingOff: there is no folder to keep it in.
        :raises KeyReused: another report was sent with the key.
        :raises NotFound: a name is unknown.
        :raises BadRequest: the report contradicts itself.
        :raises StateFailed: it could not be kept.
        """
        if self._log is None:
            raise WritingOff("There is no folder to keep outcomes in.", mend="Set FIRSTOFF_STATE to one.")
        return outcome_kept(self._collection, self._log, asked, key)

    def outcome_summary(self, model: str, serial: str | None) -> OutcomeSummary:
        """:raises NotFound: ``model`` is unknown."""
        outcomes = self._log.all() if self._log else ()
        counted = self.counted()
        return self._agreed(model, serial, lambda each: outcome_summary(each, self._learned(each, counted), outcomes))

    def _learned(self, appliance: Appliance, counted: Counted) -> Learned:
        return learned_of(self._collection, appliance, counted, self.settings.authored_jobs)

    def codes(self, model: str, serial: str | None, offset: int, limit: int) -> CodeList:
        """:raises NotFound: ``model`` is unknown."""
        return self._agreed(model, serial, lambda each: code_list(each, offset, limit, serial))

    def code(self, model: str, code: str, serial: str | None) -> CodeDetail:
        """:raises NotFound: ``model`` or ``code`` is unknown; carries the nearest codes."""
        counted = self.counted()
        return self._agreed(
            model, serial, lambda each: code_detail(self._bench(each), code, self._learned(each, counted))
        )

    def service_modes(self, model: str, serial: str | None, kinds: Iterable[str]) -> ServiceModeList:
        """:raises NotFound: a name is unknown."""
        wanted = list(kinds)
        return self._agreed(model, serial, lambda each: service_mode_list(each, wanted))

    def _understood(self, model: str, serial: str | None, words: Iterable[str]) -> Understood:
        names = frozenset[str]().union(*(each.symptoms for each in self._collection.appliances(model, serial)))
        return understood(
            words, names, lambda text: self.search(text, model=model, serial=serial, kind="symptom", limit=4).hits
        )

    def _bench(self, appliance: Appliance) -> Bench:
        key = (appliance.model, appliance.serial_range)
        with self._lock:
            if key in self._benches:
                return self._benches[key]
        bench = laid_out(appliance)
        with self._lock:
            return self._benches.setdefault(key, bench)

    def _agreed(self, model: str, serial: str | None, ask: Callable[[Appliance], Said]) -> Said:
        """The answer that all serial ranges still possible share.

        :raises SerialNeeded: their answers differ.
        """
        appliances = self._collection.appliances(model, serial)
        answers: list[Said] = []
        failures: list[FirstoffError] = []
        for each in appliances:
            try:
                answers.append(ask(each))
            except (StoreError, ContentBroken, StateFailed, OutOfTime):
                raise
            except FirstoffError as error:
                failures.append(error)
        if not answers and len({failure.detail for failure in failures}) == 1:
            raise failures[0]
        if failures or any(answer != answers[0] for answer in answers[1:]):
            raise SerialNeeded(appliances[0].model_number, self._what_differs(appliances))
        return grounded(answers[0], appliances)

    def _what_differs(self, appliances: Sequence[Appliance]) -> list[str]:
        said = []
        for each in catalogue.differences(self._collection, appliances[0].model):
            if each.serials is None:
                continue
            parts = [f"without {ref.label}" for ref in each.leaves_out] + [f"with {ref.label}" for ref in each.adds]
            parts += [f"{new.label} in place of {old.label}" for old, new in each.replaces]
            said.append(f"{each.serials}: {', '.join(parts) or 'as the platform'}")
        return said
