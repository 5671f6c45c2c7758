package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.door.Door;
import org.layroom.dashboard.door.Role;
import org.layroom.dashboard.door.Session;
import org.layroom.dashboard.door.Visitor;

/** Who may come in to the page, and the code for one more, in JSON and in words. */
public final class DoorAnswers {
  private final Door door;

  public DoorAnswers(Door door) {
    this.door = door;
  }

  public Door door() {
    return door;
  }

  /** What somebody may know of themselves; whoever is here hears of everybody. */
  public ObjectNode state(Visitor visitor, List<String> places) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("mayWrite", visitor.mayWrite());
    if (visitor instanceof Visitor.Stranger) {
      return json.put("you", "stranger");
    }
    if (visitor instanceof Visitor.Paired paired) {
      return json.put("you", paired.session().role().id()).put("name", paired.session().name());
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
      lines.add("Nobody is paired.");
    }
    return json;
  }

  private static ObjectNode json(Session session) {
    return JsonNodeFactory.instance
        .objectNode()
        .put("id", session.id())
        .put("name", session.name())
        .put("role", session.role().id())
        .put("made", session.made().toString())
        .put("seen", session.seen().toString());
  }

  private static String words(Session session) {
    return "%s  %s, %s, paired %s, last seen %s"
        .formatted(
            session.id(), session.name(), session.role().words(), session.made(), session.seen());
  }

  /** Makes a code and shows it, once. */
  public ObjectNode open(Role role, List<String> places) {
    Door.Code code = door.open(role);
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("shownCode", code.text()).put("role", role.id());
    json.put("minutes", code.life().toMinutes());
    ArrayNode reached = json.putArray("places");
    places.forEach(reached::add);
    ArrayNode lines = json.putArray("lines");
    lines.add("Type this code on the other device, within " + code.life().toMinutes() + " min:");
    lines.add("");
    lines.add("    " + code.text());
    lines.add("");
    lines.add("It opens for one device, which then " + role.words() + ".");
    if (places.isEmpty()) {
      lines.add(
          "The page listens on this machine only. To let others come, set http.address to 0.0.0.0"
              + " in dashboard.properties, and start anew.");
    }
    places.forEach(place -> lines.add("Its browser goes to: " + place));
    return json;
  }

  /** Takes a session away, by its id or by a name that only one has. */
  public Optional<ObjectNode> revoke(String idOrName, List<String> places) {
    List<Session> named =
        door.paired().stream().filter(session -> session.name().equals(idOrName)).toList();
    String id = named.size() == 1 ? named.get(0).id() : idOrName;
    return door.revoke(id)
        .map(
            session -> {
              ObjectNode json = state(new Visitor.Here(), places);
              json.putArray("lines").add("\"" + session.name() + "\" does not come in any more.");
              return json;
            });
  }

  /** Takes the standing code back. */
  public ObjectNode withdraw(List<String> places) {
    door.withdraw();
    return state(new Visitor.Here(), places);
  }
}
