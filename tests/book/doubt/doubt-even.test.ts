import { studyHalf } from "./halves.ts";

studyHalf(0);
