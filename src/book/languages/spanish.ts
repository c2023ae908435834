import { type Language, list } from "./language.ts";

export const SPANISH: Language = {
  name: "Spanish",
  dayOrder: "dmy",
  endings: [
    ["ado", "ada", "ados", "adas"],
    ["ido", "ida", "idos", "idas"],
  ],
  joins: [],
  says: {
    device: list(
      "equipo, equipos, aparato, aparatos, dispositivo, dispositivos, activo fijo, activos fijos",
    ),
    "device name": list("nombre del equipo, nombre equipo, descripción del equipo"),
    "device number": list(
      "número de equipo, nº de equipo, número de inventario, nº de inventario, no de inventario, inventario, código de equipo, código del equipo, placa de inventario, número de activo, código de activo, nº de activo, no de activo",
    ),
    number: list("número, nº, núm, num, nro"),
    code: list("código, clave, cód"),
    site: list(
      "centro, sede, ubicación, localización, lugar, hospital, clínica, sitio, establecimiento, maternidad, ubicación física, ubicación actual, establecimiento de salud, centro de salud, unidad de salud",
    ),
    ward: list("sala, servicio clínico, unidad, departamento, planta, área, servicio"),
    model: list("modelo, tipo"),
    make: list("marca, fabricante"),
    "serial number": list(
      "número de serie, nº de serie, no de serie, n serie, nº serie, num serie, serie",
    ),
    commissioned: list(
      "puesta en servicio, puesta en marcha, puesta en funcionamiento, en servicio desde, alta, fecha de alta, inicio de uso, entrada en servicio, en uso desde, puesto en servicio, puesta en uso",
    ),
    installed: list(
      "instalado, instalada, instalación, colocado, colocada, colocados, colocadas, puestos, puestas, montado, montados, instalados, instaladas",
    ),
    purchased: list(
      "compra, comprado, adquisición, adquirido, recepción, fecha de entrega, recibido, entrega, entregado",
    ),
    status: list(
      "estado, situación, estatus, estado operativo, estado funcional, estado de funcionamiento, estado actual, operatividad",
    ),
    condition: list("condición"),
    retired: list(
      "baja, dado de baja, retirado, retirada, fuera de servicio, retiro, fecha de baja",
    ),
    "out service since": list("fuera de servicio desde, fuera de uso desde"),
    "uses month": list(
      "usos al mes, usos por mes, pruebas al mes, pruebas por mes, tamizajes por mes, tamizajes al mes, uso mensual, usos mensuales, exámenes por mes",
    ),
    uses: list(
      "usos, uso, pruebas, tamizajes, tamizaje, cribados, cribado, exámenes, sesiones, estudios",
    ),
    new: list("nuevo, nueva, nuevos, nuevas"),
    days: list("días"),
    week: list("semanas"),
    month: list("mes, mensual, mensuales, meses"),
    note: list("observación, observaciones, nota, notas, comentario, comentarios"),
    finding: list(
      "hallazgo, hallazgos, daño, daños, desperfecto, defecto, defectos, inspección visual, dañado, roto, rota, desgastado, deteriorado",
    ),
    last: list("último, última, ultima vez, reciente, últ"),
    date: list("fecha, día, f"),
    electrode: list("electrodo, electrodos, pinza de electrodos, pinzas de electrodos"),
    "electrode set": list(
      "juego de electrodos, set de electrodos, conjunto de electrodos, kit de electrodos",
    ),
    contact: list("contacto, contactos"),
    sensor: list("sensores"),
    "ear cushion": list(
      "almohadilla, almohadillas, almohadilla auricular, almohadillas auriculares, cojín auricular, almohadilla de oído, almohadillas de oído, copa auricular, copas auriculares",
    ),
    cushion: list("cojín, cojines, almohadillado"),
    "ear coupler": list("acoplador auricular, acopladores auriculares"),
    coupler: list("acoplador, acopladores"),
    set: list("juego, conjunto"),
    replaced: list(
      "cambio, cambiado, cambiada, cambiados, cambiadas, reemplazo, reemplazado, reemplazada, recambio, sustitución, sustituido, sustituida, reposición, renovación, renovado, repuesto el",
    ),
    done: list("realizado, realizada, hecho, efectuado, efectuada"),
    calibration: list("calibración, calibrado, calibrada, verificación metrológica, calibr"),
    "safety check": list(
      "seguridad eléctrica, prueba de seguridad, prueba de seguridad eléctrica, control de seguridad eléctrica, verificación de seguridad eléctrica",
    ),
    name: list("nombre, denominación"),
    next: list("próximo, próxima, siguiente, próx"),
    due: list("vencimiento, vence, toca"),
    interval: list("intervalo, periodicidad, frecuencia"),
    order: list("pedido, orden de compra, solicitado, orden de servicio, encargado"),
    warranty: list("garantía"),
    price: list("precio, coste, costo, importe"),
    quantity: list("cantidad, unidades, cant"),
    supplier: list("proveedor, distribuidor, proveedores, distribuidores"),
    lot: list("lote"),
    expiry: list("caducidad, fecha de vencimiento, expiración"),
    by: list("por, responsable, técnico, realizado por, firma"),
    "valid until": list("válido hasta"),
    life: list("vida útil"),
    until: list("hasta"),
    planned: list("previsto, prevista, programado, programada, planificado"),
    stock: list("existencias, almacén"),
    spare: list("repuesto, repuestos, reserva"),
    result: list("resultado"),
    year: list("año, años, fabricación, fecha de fabricación"),
    "last service": list("último servicio"),
    "service date": list("fecha de servicio, fecha del servicio"),
    "in service": list("en servicio"),
    "in uses": list("en uso"),
    active: list("activo, activa"),
    reason: list("motivo, causa, razón"),
    certificate: list("certificado, constancia"),
    id: list("identificador, identificación"),
  },
  empty: list("el, la, los, las, de, del, en, y, al, para, un, una"),
  months: [
    list("enero, ene"),
    list("febrero, feb"),
    list("marzo, mar"),
    list("abril, abr"),
    list("mayo, may"),
    list("junio, jun"),
    list("julio, jul"),
    list("agosto, ago"),
    list("septiembre, setiembre, sep, sept, set"),
    list("octubre, oct"),
    list("noviembre, nov"),
    list("diciembre, dic"),
  ],
  retired: list(
    "de baja, dado de baja, dada de baja, baja definitiva, retirado de uso, retirado de servicio, desechado, desechada, desincorporado, desincorporada",
  ),
  serving: list(
    "en servicio, en uso, activo, activa, operativo, operativa, funcionando, funciona, bueno, buena, disponible, en reparación, prestado",
  ),
  yes: ["sí", "si"],
  no: ["no"],
  totals: list("total, suma, subtotal, total general, número de equipos, total equipos"),
  work: {
    replaced: list("colocado, colocada, colocados, colocadas"),
    new: list("nuevo, nueva, nuevos, nuevas"),
    maybe: list("cambiar, reemplazar, sustituir, renovar, reponer"),
    whole: list("ambos, ambas, completo, completa, completos, todos, todas, par"),
    left: list("izquierdo, izquierda, izq"),
    right: list("derecho, derecha, dcho, dcha"),
    partial: list("uno, una, un, solo, sólo, parcial, medio"),
    damaged: list(
      "roto, rota, rotos, rotas, dañado, dañada, dañados, agrietado, agrietada, grieta, desgastado, desgastada, suelto, suelta, corroído, corrosión, óxido, residuos, residuo, endurecido, endurecida, deteriorado, deteriorada, rajado, rajada, rasgado, rasgada",
    ),
    inspected: list(
      "revisado, revisada, revisión, inspeccionado, inspección, comprobado, verificado",
    ),
    clean: list("limpio, limpia, correcto, sin hallazgos, bien"),
    nothing: list("limpiado, limpiada, limpieza, desinfectado, desinfección, cargado, prestado"),
    withdrawn: list("dado de baja, de baja, desechado, retirado de servicio"),
    later: list(
      "para, enviado, enviada, enviar, pedir, pedido, pedidos, falta, pendiente, necesita, hay que, próximo, solicitar, solicitado, programado, programada, previsto, planificado",
    ),
    no: list(
      "no, sin, ningún, ninguna, ninguno, cancelado, cancelada, anulado, anulada, aplazado, aplazada",
    ),
    lead: list("cable, cables"),
    other: list("batería, impresora, pantalla, cargador, enchufe, maletín, papel, software"),
    filler: list("el, la, los, las, de, del, en, y, al, se, hoy, con"),
  },
  patients: {
    "date of birth": list(
      "fecha de nacimiento, f nacimiento, fecha nac, fecha nacimiento bebé, nacido el, nacida el",
    ),
    "records of persons": list(
      "paciente, pacientes, bebé, recién nacido, neonato, madre, nombre del paciente, nombre de la madre, nombre del bebé, nombre del niño, nombre del recién nacido, nombre del neonato, apellidos del paciente, datos del paciente, sexo del bebé",
    ),
    "names of persons": list(
      "apellidos, apellido, nombre y apellidos, nombre completo, nombres y apellidos",
    ),
    "medical record numbers": list(
      "historia clínica, número de historia, no de historia, nhc, expediente clínico, id paciente, código del paciente",
    ),
    "identity numbers": list(
      "número de afiliado, número de asegurado, seguridad social, cédula de identidad, dni, curp, rut del paciente",
    ),
  },
};
