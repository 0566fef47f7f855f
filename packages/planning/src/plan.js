export {};
//# sourceMappingURL=plan.js.map
