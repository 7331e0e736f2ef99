console.error("said in a worker");
