export * from "../wearLimits";
