package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.AccessSession;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.access.PairingAttempt;
import org.layroom.dashboard.access.Role;

/** Access to the page, and the code for one more, in JSON and in words. */
public final class AccessAnswers {
  private final AccessControl door;

  public AccessAnswers(AccessControl door) {
    this.door = door;
  }

  public AccessControl door() {
    return door;
  }

  /** What somebody may know of themselves; whoever is here hears of everybody. */
  public ObjectNode state(Caller visitor, List<String> places) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("mayWrite", visitor.mayWrite());
    if (visitor instanceof Caller.Stranger) {
      return json.put("you", "stranger");
    }
    if (visitor instanceof Caller.Paired paired) {
      return you(json, paired.session());
    }
    if (visitor instanceof Caller.Program program) {
      return you(json, program.session());
    }
    json.put("you", "here");
    ArrayNode reached = json.putArray("places");
    places.forEach(reached::add);
    door.standing()
        .ifPresent(
            code ->
                json.putObject("code")
                    .put("role", code.role().id())
                    .put("secondsLeft", code.left().toSeconds())
                    .put("guessesLeft", code.guessesLeft()));
    ArrayNode paired = json.putArray("paired");
    door.paired().forEach(session -> paired.add(json(session)));
    ArrayNode lines = json.putArray("lines");
    door.paired().forEach(session -> lines.add(words(session)));
    if (door.paired().isEmpty()) {
      lines.add("No devices are paired.");
    }
    return json;
  }

  private static ObjectNode you(ObjectNode json, AccessSession session) {
    return json.put("you", session.role().id()).put("name", session.name());
  }

  /** Which programs have a token. */
  public ObjectNode tokens() {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    ArrayNode tokens = json.putArray("tokens");
    ArrayNode lines = json.putArray("lines");
    for (AccessSession one : door.tokens()) {
      tokens.add(json(one));
      lines.add(
          "%s  %s, %s, made %s, last used %s"
              .formatted(one.id(), one.name(), one.role().words(), one.made(), one.seen()));
    }
    if (tokens.isEmpty()) {
      lines.add("No program has a token.");
    }
    return json;
  }

  /**
   * Makes a token and shows it, once; empty when there are as many as can be.
   *
   * @throws IllegalArgumentException when the name is not one, or taken
   */
  public Optional<ObjectNode> token(String name, Role role, List<String> places) {
    if (!(door.token(name, role) instanceof PairingAttempt.LetIn in)) {
      return Optional.empty();
    }
    ObjectNode json = tokens();
    json.put("token", in.token()).set("made", json(in.session()));
    ArrayNode lines = json.putArray("lines");
    lines.add(
        "\"" + in.session().name() + "\" " + role.words() + " with this token, shown only once:");
    lines.add("");
    lines.add("    " + in.token());
    lines.add("");
    if (role == Role.CALENDAR) {
      lines.add("Let the calendar subscribe to, for each room:");
      String path = "calendar/" + in.token() + "/ROOM.ics";
      places.forEach(place -> lines.add("    " + place + path));
      json.put("calendarPath", "/" + path);
    } else {
      lines.add("It is sent as a header:  Authorization: Bearer TOKEN");
    }
    lines.add("It lasts until you revoke it: layroom revoke-token \"" + in.session().name() + "\"");
    if (places.stream().anyMatch(place -> place.startsWith("http:"))) {
      lines.add("Without a certificate, others on the network can read it: layroom certificate");
    }
    return Optional.of(json);
  }

  /** Takes a token away, by its id or name. */
  public Optional<ObjectNode> revokeToken(String nameOrId) {
    return door.revokeToken(nameOrId)
        .map(
            gone -> {
              ObjectNode json = tokens();
              json.putArray("lines").add("\"" + gone.name() + "\" no longer has access.");
              return json;
            });
  }

  private static ObjectNode json(AccessSession session) {
    return JsonNodeFactory.instance
        .objectNode()
        .put("id", session.id())
        .put("name", session.name())
        .put("role", session.role().id())
        .put("made", session.made().toString())
        .put("seen", session.seen().toString());
  }

  private static String words(AccessSession session) {
    return "%s  %s, %s, paired %s, last used %s"
        .formatted(
            session.id(), session.name(), session.role().words(), session.made(), session.seen());
  }

  /** Makes a code and shows it, once. */
  public ObjectNode open(Role role, List<String> places) {
    AccessControl.Code code = door.open(role);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("shownCode", code.text()).put("role", role.id());
    json.put("minutes", code.life().toMinutes());
    ArrayNode reached = json.putArray("places");
    places.forEach(reached::add);
    ArrayNode lines = json.putArray("lines");
    lines.add("Enter this code on the other device within " + code.life().toMinutes() + " min:");
    lines.add("");
    lines.add("    " + code.text());
    lines.add("");
    lines.add("It is valid for one device, which then " + role.words() + ".");
    if (places.isEmpty()) {
      lines.add(
          "The page is open on this machine only. To open it to other devices, set"
              + " http.address=0.0.0.0 in dashboard.properties and restart.");
    }
    places.forEach(place -> lines.add("In its browser, open: " + place));
    return json;
  }

  /** Takes a session away, by its id or by a name that only one has. */
  public Optional<ObjectNode> revoke(String idOrName, List<String> places) {
    List<AccessSession> named =
        door.paired().stream().filter(session -> session.name().equals(idOrName)).toList();
    String id = named.size() == 1 ? named.get(0).id() : idOrName;
    return door.revoke(id)
        .map(
            session -> {
              ObjectNode json = state(new Caller.Here(), places);
              json.putArray("lines").add("\"" + session.name() + "\" no longer has access.");
              return json;
            });
  }

  /** Takes the standing code back. */
  public ObjectNode withdraw(List<String> places) {
    door.withdraw();
    return state(new Caller.Here(), places);
  }
}
