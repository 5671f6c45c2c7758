package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * The contract, typed by hand from the design and never written by a program: the file of frozen
 * names cannot lose any of it, whoever writes that file anew. A name stands here without the part
 * that the contract leaves open (whether an option is required). Ready to mix is not among the
 * verdicts: no typed check knows the air.
 */
class FrozenNamesTest {
  private static final String COMMANDS =
      """
      command demo
      command serve
      command mix
      command check
      command cure
      command fumes
      command forecast
      command plan
      command replay
      command export
      command pair
      command pair-device
      command revoke-device
      command backup
      command restore
      command certificate
      option demo --speed value
      option serve --config value
      option mix --material value
      option mix --material-file value
      option mix --amount value
      option mix --mold-temp value
      option mix --resin-temp value
      option mix --working-time value
      option mix --dose value
      option mix --json alone
      option check --material value
      option check --material-file value
      option check --room value
      option check --air-temp value
      option check --humidity value
      option check --mold-temp value
      option check --json alone
      option cure --material value
      option cure --material-file value
      option cure --dose value
      option cure --temps value
      option cure --json alone
      option fumes --resin value
      option fumes --styrene value
      option fumes --volume value
      option fumes --air-changes value
      option fumes --working-time value
      option fumes --gel-time value
      option fumes --gel-coat value
      option fumes --gel-coat-styrene value
      option fumes --mixing value
      option fumes --air-temp value
      option fumes --limit value
      option fumes --json alone
      option forecast --history value
      option forecast --outdoor value
      option forecast --at value
      option forecast --hours value
      option forecast --zone value
      option forecast --json alone
      option plan --material values
      option plan --material-file values
      option plan --zone value
      option plan --json alone
      argument replay 0 value
      option replay --speed value
      option replay --zone value
      option export --from value
      option export --to value
      option export --out value
      """;

  private static final String EXITS =
      """
      exit 0 mix: answered
      exit 0 check: no
      exit 0 check: unknown
      exit 0 check: wait
      exit 0 cure: answered
      exit 0 fumes: answered
      exit 0 forecast: answered
      exit 0 plan: answered
      exit 2 mix: a dose outside the can's limits
      exit 2 forecast: too short a history
      exit 2 fumes: no such option
      exit 2 serve: no such setting
      exit 2 layroom-device: no such setting
      exit 1 export: no dashboard answers there
      """;

  private static final String REFUSALS =
      """
      json COMMAND refused array
      json COMMAND refused[] object
      json COMMAND refused[].field string
      json COMMAND refused[].value string
      json COMMAND refused[].limit string
      json COMMAND refused[].reason string
      json COMMAND warnings array
      """;

  private static final String ANSWERS =
      """
      json mix doseByWeightPct number
      json mix catalystMl number
      json mix catalystGrams number
      json mix materialGrams number
      json mix gelMinutes object
      json mix gelMinutes.p10 number
      json mix gelMinutes.p50 number
      json mix gelMinutes.p90 number
      json mix workingMinutes number
      json mix cups array
      json mix stages array
      json mix stages[].stage string
      json mix stages[].fromMinutes object
      json mix stages[].fromMinutes.p10 number
      json mix stages[].fromMinutes.p50 number
      json mix stages[].fromMinutes.p90 number
      json mix warnings[].field string
      json mix warnings[].value string
      json mix warnings[].limit string
      json mix warnings[].reason string
      value mix stage demold
      value mix stage full-cure
      json check verdict string
      json check dewPointC number
      json check reasons array
      json check reasons[].about string
      json check reasons[].state string
      json check reasons[].words string
      value check verdict no
      value check verdict unknown
      value check verdict wait
      json cure equivalentHours number
      json cure stages array
      json forecast points array
      json forecast points[].time string
      json forecast points[].p10 number
      json forecast points[].p50 number
      json forecast points[].p90 number
      json fumes emittedGrams number
      json fumes peakPpm number
      json fumes max15MinPpm number
      json fumes twa8hPpm number
      json fumes airNeededM3PerH number
      json fumes breathingZone object
      """;

  private static final String MESSAGES =
      """
      topic layroom/<room>/<device>/readings
      topic layroom/<room>/<device>/status
      topic layroom/<room>/<device>/stored
      topic layroom/<room>/<device>/settings
      topic layroom/<room>/<device>/alarm
      topic layroom/<room>/<device>/acknowledge
      topic layroom/<room>/verdict
      topic layroom/<room>/warnings
      topic layroom/<room>/jobs
      topic layroom/dashboard
      record temperature Cel
      record humidity %RH
      record mold-temperature Cel
      record resin-temperature Cel
      record pressure Pa
      record voc-raw
      record voc-level /
      record styrene-estimate /
      record outbox
      record sequence
      record uptime s
      """;

  private static final String PLACES =
      """
      place GET /api/room
      parameter /api/room room
      place GET /api/history
      parameter /api/history room
      parameter /api/history series
      parameter /api/history from
      parameter /api/history to
      parameter /api/history points
      place GET /api/mix
      parameter /api/mix room
      place GET /api/materials
      place GET /api/jobs
      place POST /api/job
      place GET /api/warnings
      parameter /api/warnings room
      place POST /api/warnings
      place GET /api/events
      parameter /api/events room
      place GET /healthz
      setting dashboard room
      setting dashboard broker.uri
      setting dashboard broker.user
      setting dashboard broker.password-file
      setting dashboard http.address
      setting dashboard http.port
      setting dashboard data
      setting dashboard zone
      setting device room
      setting device device
      setting device broker.uri
      setting device broker.user
      setting device broker.password-file
      setting device data
      setting device sample-seconds
      """;

  @Test
  void everyNameOfTheContractIsInTheFile() throws IOException {
    Set<String> promised = new TreeSet<>();
    for (String part : new String[] {COMMANDS, EXITS, ANSWERS, MESSAGES, PLACES}) {
      promised.addAll(part.lines().toList());
    }
    for (String command : new String[] {"mix", "check", "cure", "fumes", "forecast", "plan"}) {
      promised.addAll(REFUSALS.replace("COMMAND", command).lines().toList());
    }
    promised.removeAll(
        FrozenNames.read().stream()
            .map(name -> name.matches("(option|argument) .*") ? name.replaceFirst(",.*", "") : name)
            .collect(Collectors.toSet()));
    assertEquals(Set.of(), promised, "promised, and not in the file");
  }
}
