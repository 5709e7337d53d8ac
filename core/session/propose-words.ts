// One table of data: plain words of the trade in several languages.
import type { ShotColumn } from "../table/shot-columns";

/** Words that headers use for a shot column, normalised by `headerWords`; from common use, no source. */
export const columnWords: Readonly<Partial<Record<ShotColumn, readonly string[]>>> = {
  shot: ["shot", "no", "nr", "n", "shot no", "shot number", "number", "#", "schlag", "schlag nr", "golpe", "tiro", "coup", "numero"],
  head: ["head", "club", "iron", "club head", "club name", "schlager", "eisen", "kopf", "palo", "hierro", "club utilise", "fer", "tete"],
  player: ["player", "golfer", "spieler", "jugador", "joueur"],
  ball: ["ball", "ball model", "ball type", "balltyp", "bola", "balle"],
  time: ["time", "clock", "date time", "timestamp", "time of day", "uhrzeit", "zeit", "hora", "heure"],
  note: ["note", "notes", "remark", "remarks", "comment", "notiz", "bemerkung", "nota", "remarque"],
  club_speed: ["club speed", "head speed", "club head speed", "clubhead speed", "swing speed", "club", "head", "schlagerkopfgeschwindigkeit", "schlagergeschwindigkeit", "velocidad del palo", "velocidad de palo", "vitesse du club", "vitesse club"],
  angle_of_attack: ["angle of attack", "attack angle", "attack", "aoa", "dip", "eintreffwinkel", "angriffswinkel", "angulo de ataque", "angle d attaque"],
  club_path: ["club path", "path", "swing path", "schwungbahn", "schwungpfad", "trayectoria del palo", "chemin du club"],
  face_angle: ["face angle", "face", "face to target", "schlagflachenwinkel", "schlagflache", "angulo de la cara", "angle de face"],
  face_to_path: ["face to path", "face less path", "schlagflache zur bahn", "cara a trayectoria"],
  dynamic_loft: ["dynamic loft", "loft", "loft at impact", "delivered loft", "dynamischer loft", "loft dinamico", "loft dynamique"],
  strike_x: ["strike x", "face x", "toe", "toeward", "impact x", "toe heel", "horizontal impact", "strike across", "treffpunkt x", "impacto x"],
  strike_y: ["strike y", "face y", "up", "upward", "impact y", "high low", "vertical impact", "strike up", "treffpunkt y", "impacto y"],
  strike_distance: ["strike distance", "off centre", "off center"],
  ball_speed: ["ball speed", "ball", "ballgeschwindigkeit", "velocidad de bola", "velocidad de la bola", "velocidad bola", "vitesse de balle", "vitesse balle"],
  speed_ratio: ["speed ratio", "ball to club speed", "geschwindigkeitsverhaltnis", "relacion de velocidad"],
  launch_angle: ["launch angle", "launch", "vertical launch", "up", "abflugwinkel", "startwinkel", "angulo de salida", "angulo de lanzamiento", "angle de lancement", "angle de decollage"],
  start_direction: ["start direction", "start", "launch direction", "horizontal launch", "off line", "abflugrichtung", "startrichtung", "direccion de salida", "direction de depart"],
  spin_rate: ["spin rate", "spin", "total spin", "drehzahl", "spinrate", "efecto", "taux de spin"],
  back_spin: ["back spin", "backspin", "ruckwartsdrall", "retroceso"],
  side_spin: ["side spin", "sidespin", "seitendrall", "efecto lateral"],
  spin_axis: ["spin axis", "axis", "tilt", "spin tilt", "axis tilt", "spinachse", "drehachse", "eje de spin", "axe de spin"],
  carry: ["carry", "carry distance", "first bounce", "flugweite", "carry weite", "vuelo", "distancia de vuelo", "portee"],
  total: ["total", "total distance", "at rest", "gesamtweite", "gesamt", "distancia total", "distance totale"],
  offline: ["offline", "off line", "side", "aside", "lateral", "carry side", "side carry", "seitenabweichung", "seite", "desviacion lateral", "ecart lateral", "deviation"],
  peak_height: ["peak height", "height", "peak", "apex", "top", "max height", "maximale hohe", "scheitelhohe", "hohe", "altura maxima", "altura", "hauteur", "hauteur max"],
  descent_angle: ["descent angle", "descent", "fall", "landing angle", "landewinkel", "angulo de caida", "angulo de aterrizaje", "angle d atterrissage", "angle de descente"],
  flight_time: ["flight time", "time", "in the air", "hang time", "air time", "flugzeit", "zeit", "tiempo de vuelo", "temps de vol"],
  landing_speed: ["landing speed", "landegeschwindigkeit", "velocidad de caida"],
  feel: ["feel"],
  sound: ["sound"],
  looks: ["looks"],
  turf: ["turf"],
};

/** A header without case, accents, punctuation, what is in brackets, and words in `without`: `Club Speed [mph]` is `club speed`. */
export function headerWords(header: string, without: ReadonlySet<string> = new Set()): string {
  const words = header.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[([].*?(?:[)\]]|$)/gu, " ").split(/[^\p{L}\p{N}#°%]+/u).filter((word) => word !== "");
  const kept = words.filter((word) => !without.has(word));
  return (kept.length > 0 ? kept : words).join(" ");
}
